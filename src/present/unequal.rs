//! What an unequal wiring does: each driver's share of the power, its cone's travel, and what it costs.
use std::rc::Rc;

use super::chart::{Across, Axis, Chart, Curve, Line, Side};
use super::figures::hertz;
use super::format::fixed;
use crate::design::evaluate::driver_shares;
use crate::design::report::{SoundReport, WiringReport};
use crate::model::acoustics::{DriverPart, cost_db, driver_parts};
use crate::words::unequal as words;

/// What is shown of an unequal wiring.
pub struct Unequal {
    /// The consequence in a sentence or two.
    pub sentence: String,
    /// A row for each driver.
    pub rows: Vec<String>,
    /// Travel of each cone.
    pub chart: Chart,
}

/// The consequence of a wiring whose coils don't share equally; `None` where they do.
#[must_use]
#[inline(never)]
pub fn unequal(sound: &SoundReport, wiring: &WiringReport) -> Option<Unequal> {
    sound.network.unequal.as_ref()?;
    let chosen = wiring.chosen()?;
    let frequencies = &sound.response.frequencies_hz;
    let parts = driver_parts(&sound.network, &sound.built.drive, frequencies).ok()?;
    let shares = driver_shares(&chosen.shares);
    let most = shares.iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let coils: Vec<f64> = chosen.shares.iter().map(|share| share.power).collect();
    let hottest = chosen.shares.iter().max_by(|a, b| a.power.total_cmp(&b.power))?;
    let headroom = 10.0 * (hottest.power * coils.len() as f64).log10();
    // The filters act on all cones alike.
    let through = |i: usize| {
        let (with, without) =
            (sound.response.excursion_peak_m.get(i)?, sound.unfiltered.excursion_peak_m.get(i)?);
        (*without > 0.0).then(|| with / without)
    };
    let travels: Vec<Vec<f64>> = parts
        .iter()
        .map(|part| {
            let all = part.excursion_peak_m.iter().enumerate();
            all.map(|(i, x)| 1e3 * x * through(i).unwrap_or(1.0)).collect()
        })
        .collect();
    let rows =
        (0usize..).zip(shares.iter().zip(&travels).zip(&parts)).map(|(number, ((share, travel), part))| {
            format!("{}: {}", words::driver(number + 1), row(*share, travel, part, &parts, frequencies))
        });
    let name = (most.0 + 1).to_string();
    Some(Unequal {
        sentence: words::consequence(
            &name,
            &percent(most.1),
            &percent(1.0 / shares.len() as f64),
            &fixed(cost_db(&coils), 1),
            &hottest.coil.to_string(),
            &fixed(headroom, 1),
        ),
        rows: rows.collect(),
        chart: chart(sound, travels),
    })
}

fn percent(share: f64) -> String {
    fixed(100.0 * share, 0)
}

/// One driver: its share, the frequency where it is largest, its cone's largest travel.
fn row(share: f64, travel: &[f64], part: &DriverPart, all: &[DriverPart], frequencies: &[f64]) -> String {
    let of_whole = |i: usize| {
        let whole: f64 = all.iter().filter_map(|part| part.power_w.get(i)).sum();
        part.power_w.get(i).map(|power| power / whole)
    };
    let top = |values: &mut dyn Iterator<Item = f64>| {
        values.zip(frequencies).filter(|(value, _)| value.is_finite()).max_by(|a, b| a.0.total_cmp(&b.0))
    };
    let most = top(&mut (0..frequencies.len()).map(|i| of_whole(i).unwrap_or(f64::NAN)));
    let furthest = top(&mut travel.iter().copied());
    let (Some((most, at)), Some((furthest, there))) = (most, furthest) else { return percent(share) };
    words::of_driver(&percent(share), &percent(most), &hertz(*at), &fixed(furthest, 1), &hertz(*there))
}

const LINES: [Line; 2] = [Line::Full, Line::Dashed];

fn chart(sound: &SoundReport, travels: Vec<Vec<f64>>) -> Chart {
    let all: Vec<f64> = travels.iter().flatten().copied().collect();
    let limit = sound.xmax.map(|xmax| xmax.millimetres());
    let top = limit.map_or(f64::INFINITY, |limit| 3.0 * limit);
    let in_view: Vec<f64> = all.iter().map(|x| x.min(top)).collect();
    let mut alike: Vec<(String, Vec<f64>)> = Vec::new();
    for (number, travel) in travels.into_iter().enumerate() {
        // Cones that move alike are one curve.
        let same = |other: &&mut (String, Vec<f64>)| {
            other.1.iter().zip(&travel).all(|(a, b)| (a - b).abs() <= 1e-6 * a.abs().max(1e-9))
        };
        match alike.iter_mut().find(same) {
            Some((name, _)) => *name = format!("{name}, {}", number + 1),
            None => alike.push((words::driver(number + 1), travel)),
        }
    }
    let curves = alike.into_iter().enumerate().map(|(number, (name, values))| Curve {
        name,
        unit: "mm",
        values: Rc::from(values),
        places: 1,
        line: match LINES.get(number) {
            Some(line) => *line,
            None => Line::Beside((number - LINES.len()) as u8),
        },
        side: Side::Left,
        band: None,
    });
    Chart {
        key: "cones",
        title: words::CHART.into(),
        frequencies_hz: Rc::from(sound.response.frequencies_hz.as_slice()),
        across: Across::Frequency,
        curves: curves.collect(),
        left: Axis::from_zero(&in_view, limit.map_or(0.0, |limit| 1.1 * limit)),
        right: None,
        limit,
    }
}
