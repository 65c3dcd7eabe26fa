//! Weight and bench checks as names, values, units; cautions as sentences.
use super::format::{fixed, si};
use super::names;
use crate::design::bench::{Bench, Diagonal};
use crate::model::geometry::crash_newtons;
use crate::units::{ExactLength, Mass, Quantity, UnitPrefs};
use crate::words::cutting as words;

/// Mass above which one person does not lift alone: 23 kg, the load constant of the NIOSH lifting equation (from memory).
const ONE_PERSON_KG: f64 = 23.0;
/// A box plays up to here; a panel should ring above it: twice the usual crossover of 100 Hz (common practice, no source).
const PLAYS_TO_HZ: f64 = 200.0;

/// Diagonals are compared to half a millimetre.
const HALF_MM: ExactLength = ExactLength::from_hundredths_mm(50);

/// A row: name, value, unit.
pub type Row = (&'static str, String, &'static str);

/// Weight per line of the cut list, in kg.
#[must_use]
pub fn weights(bench: &Bench) -> Vec<Row> {
    let row = |part: &crate::model::geometry::PartWeight| {
        (names::part(part.name), format!("{} × {}", part.count, kilograms(part)), "kg")
    };
    bench.weight.parts.iter().map(row).collect()
}

fn kilograms(part: &crate::model::geometry::PartWeight) -> String {
    fixed(part.mass.kilograms() / part.count.max(1) as f64, 1)
}

/// Everything else that is checked.
#[must_use]
pub fn checks(bench: &Bench, prefs: &UnitPrefs) -> Vec<Row> {
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let text = |length: ExactLength| prefs.length_text(length);
    let metres = |length: crate::units::Length| text(ExactLength::from_millimetres(length.millimetres()));
    let centre = bench.weight.centre_mm.map(|mm| text(ExactLength::from_millimetres(mm.round())));
    let mut rows = vec![(words::WOOD, fixed(bench.weight.wood.kilograms(), 1), "kg")];
    if bench.with_drivers {
        rows.push((words::TOTAL, fixed(bench.weight.total.kilograms(), 1), "kg"));
    }
    rows.push((words::CENTRE, centre.join(", "), unit));
    rows.extend(diagonals(bench).map(|(name, d)| (name, text(d.rounded_to(HALF_MM)), unit)));
    if let Some(bolts) = bench.bolts {
        rows.push((words::CHORD, metres(bolts.chord), unit));
        rows.push((words::TO_CUTOUT, metres(bolts.to_cutout), unit));
        rows.push((words::TO_EDGE, metres(bolts.to_edge), unit));
    }
    if let Some(panel) = bench.panel {
        rows.push((words::PRESSURE, fixed(panel.pressure.pascals() / 1e3, 2), "kPa"));
        rows.push((words::FORCE, fixed(panel.force_newtons, 0), "N"));
        let sag = |sag: crate::units::Length| fixed(sag.millimetres(), 2);
        rows.push((words::SAG, format!("{}; {}", sag(panel.sag), sag(panel.braced.0)), "mm"));
        let mode = |mode: crate::units::Frequency| fixed(mode.hertz(), 0);
        rows.push((words::MODE, format!("{}; {}", mode(panel.mode), mode(panel.braced.1)), "Hz"));
    }
    for (name, half) in
        [words::AIR_LEFT, words::AIR_RIGHT].into_iter().zip(bench.halves.into_iter().flatten())
    {
        let shown = si(half.cubic_metres(), Quantity::Volume, prefs);
        rows.push((name, shown.number, shown.unit));
    }
    if let Some(fill) = bench.fill {
        let shown = si(fill.mass.kilograms(), Quantity::Mass, prefs);
        rows.push((words::FILL_MASS, shown.number, shown.unit));
    }
    rows
}

/// The outside diagonals by name.
pub(super) fn diagonals(bench: &Bench) -> impl Iterator<Item = (&'static str, ExactLength)> + '_ {
    bench.diagonals.iter().map(|&(which, length)| {
        let name = match which {
            Diagonal::Front => words::DIAGONAL_FRONT,
            Diagonal::Side => words::DIAGONAL_SIDE,
            Diagonal::FromLowerFront => words::DIAGONAL_LOWER,
            Diagonal::FromUpperFront => words::DIAGONAL_UPPER,
            Diagonal::Top => words::DIAGONAL_TOP,
            Diagonal::Bottom => words::DIAGONAL_BOTTOM,
        };
        (name, length)
    })
}

/// What to mind: lifting, a crash, a panel that rings.
#[must_use]
pub fn cautions(bench: &Bench) -> Vec<String> {
    let mut all = load_cautions(bench.weight.total);
    all.extend(bench.uneven().map(|share| words::uneven(&fixed(100.0 * share, 0))));
    if let Some(panel) = bench.panel.filter(|panel| panel.mode.hertz() < PLAYS_TO_HZ) {
        all.push(format!("{} {} Hz.", words::UNBRACED, fixed(panel.braced.1.hertz(), 0)));
    }
    all
}

/// What to mind about this mass: lifting, a crash.
pub(super) fn load_cautions(total: Mass) -> Vec<String> {
    let mut all = Vec::new();
    if total.kilograms() > ONE_PERSON_KG {
        all.push(words::heavy(&fixed(total.kilograms(), 0)));
    }
    all.push(words::crash(&fixed(crash_newtons(total) / 1e3, 1)));
    all
}
