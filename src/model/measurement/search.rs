//! The guided search for peaks and dip of the impedance: which tone to try next, and where they lie.
use crate::small::sort_by_number;

/// A tone and the voltage across the box, the generator and the series resistor left alone.
pub type Tone = (f64, f64);

/// Tones that are looked at, Hz.
const LEAST_HZ: f64 = 3.0;
const MOST_HZ: f64 = 500.0;
/// Tones to begin with, Hz: close enough that two peaks of a vented box show as two.
const COARSE_HZ: [f64; 10] = [12.0, 16.0, 20.0, 25.0, 31.0, 38.0, 47.0, 58.0, 72.0, 90.0];
/// A tone this close to one of those counts as it, as a share.
const SAME: f64 = 0.04;
/// Where two peaks are wanted and one is found, gaps are halved down to this ratio.
const CLOSEST: f64 = 1.04;
/// The last points around an extreme through which a parabola goes reach so far, as a share.
const AROUND: f64 = 0.05;

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sought {
    /// The one peak of a closed box or of a driver by itself.
    Peak,
    /// The lower peak of a vented box.
    LowPeak,
    /// The dip between its peaks.
    Dip,
    /// The upper peak.
    HighPeak,
}

/// An extreme found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extreme {
    /// Which.
    pub sought: Sought,
    /// Where it lies, Hz.
    pub hz: f64,
    /// It lies within so much of that, Hz: half the gap of the tones around it.
    pub within_hz: f64,
    /// The voltage there.
    pub volts: f64,
}

/// Where the search stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Search {
    /// The tone to try next, Hz; `None` when all is found.
    pub next_hz: Option<f64>,
    /// What is found so far, by rising frequency.
    pub found: Vec<Extreme>,
}

/// Looks at the tones so far: first a coarse set, then between the neighbours of each extreme, until the gaps around it
/// are no wider than `step_hz`. `vented` wants two peaks and the dip between them.
///
/// Tones outside 3 Hz to 500 Hz and voltages that are no positive number are passed over. Steps are rounded to 0.1 Hz.
#[must_use]
pub fn search(tones: &[Tone], vented: bool, step_hz: f64) -> Search {
    let step_hz = if step_hz.is_finite() { step_hz.clamp(0.1, 5.0) } else { 0.2 };
    let mut tones: Vec<Tone> = tones
        .iter()
        .filter(|(hz, volts)| (LEAST_HZ..=MOST_HZ).contains(hz) && volts.is_finite() && *volts > 0.0)
        .copied()
        .collect();
    sort_by_number(&mut tones, |tone| tone.0);
    tones.dedup_by(|a, b| a.0 == b.0);
    if let Some(next) =
        COARSE_HZ.iter().find(|hz| !tones.iter().any(|(at, _)| (at / **hz - 1.0).abs() < SAME))
    {
        return Search { next_hz: Some(*next), found: Vec::new() };
    }
    let extremes = extremes(&tones, vented);
    if extremes.is_empty() {
        return Search { next_hz: widest(&tones), found: Vec::new() };
    }
    let found: Vec<Extreme> = extremes.iter().map(|(sought, at)| extreme(&tones, *sought, *at)).collect();
    let next = extremes.iter().find_map(|(_, at)| closer(&tones, *at, step_hz));
    Search { next_hz: next, found }
}

/// Peaks and dip by their index; nothing while too few show.
fn extremes(tones: &[Tone], vented: bool) -> Vec<(Sought, usize)> {
    let volts = |at: usize| tones.get(at).map_or(0.0, |tone| tone.1);
    let mut peaks: Vec<usize> = (1..tones.len().saturating_sub(1))
        .filter(|at| volts(*at) > volts(at - 1) && volts(*at) >= volts(at + 1))
        .collect();
    sort_by_number(&mut peaks, |at| -volts(*at));
    if !vented {
        return peaks.first().map(|at| (Sought::Peak, *at)).into_iter().collect();
    }
    let [a, b, ..] = peaks[..] else { return Vec::new() };
    let (low, high) = (a.min(b), a.max(b));
    let dip = (low + 1..high).reduce(|least, at| if volts(at) < volts(least) { at } else { least });
    dip.map(|dip| vec![(Sought::LowPeak, low), (Sought::Dip, dip), (Sought::HighPeak, high)])
        .unwrap_or_default()
}

/// The middle of the widest gap, where it is still wide.
fn widest(tones: &[Tone]) -> Option<f64> {
    let gaps = tones.iter().zip(tones.iter().skip(1)).map(|(a, b)| (b.0 / a.0, a.0, b.0));
    let (ratio, low, high) = gaps.reduce(|widest, gap| if gap.0 > widest.0 { gap } else { widest })?;
    (ratio > CLOSEST).then(|| rounded((low * high).sqrt()))
}

/// The next tone beside an extreme: where a parabola has its top, or the middle of the wider gap.
fn closer(tones: &[Tone], at: usize, step_hz: f64) -> Option<f64> {
    let [a, b, c] = around(tones, at)?;
    let (below, above) = (b.0 - a.0, c.0 - b.0);
    if below.max(above) <= step_hz * 1.01 {
        return None;
    }
    let top = vertex([a, b, c]).map_or(b.0, |vertex| vertex.clamp(a.0, c.0));
    // Beside the top, so that it comes to lie between two close tones.
    let aim = if below > above { top.min(b.0) - 0.5 * step_hz } else { top.max(b.0) + 0.5 * step_hz };
    let (low, high) = if below > above { (a.0, b.0) } else { (b.0, c.0) };
    let third = (high - low) / 4.0;
    let next = rounded(aim.clamp(low + third, high - third));
    let fresh = tones.iter().all(|tone| (tone.0 - next).abs() > 0.05);
    if fresh {
        Some(next)
    } else {
        Some(rounded(0.5 * (low + high))).filter(|hz| tones.iter().all(|tone| (tone.0 - hz).abs() > 0.05))
    }
}

fn around(tones: &[Tone], at: usize) -> Option<[Tone; 3]> {
    Some([*tones.get(at.checked_sub(1)?)?, *tones.get(at)?, *tones.get(at + 1)?])
}

fn rounded(hz: f64) -> f64 {
    (10.0 * hz).round() / 10.0
}

/// Where the parabola through three tones has its top or bottom.
fn vertex([a, b, c]: [Tone; 3]) -> Option<f64> {
    let (ab, bc) = ((b.1 - a.1) / (b.0 - a.0), (c.1 - b.1) / (c.0 - b.0));
    let bend = (bc - ab) / (c.0 - a.0);
    let top = 0.5 * (a.0 + b.0) - ab / (2.0 * bend);
    (bend != 0.0 && top.is_finite()).then_some(top)
}

/// An extreme by the parabola of least squares through the tones close to it, which a meter's last digit moves little.
fn extreme(tones: &[Tone], sought: Sought, at: usize) -> Extreme {
    let Some([a, b, c]) = around(tones, at) else {
        let (hz, volts) = tones.get(at).copied().unwrap_or_default();
        return Extreme { sought, hz, within_hz: hz, volts };
    };
    let close: Vec<Tone> =
        tones.iter().filter(|tone| (tone.0 / b.0 - 1.0).abs() <= AROUND).copied().collect();
    let hz = if close.len() >= 4 { top_of(&close, b.0) } else { vertex([a, b, c]) };
    let hz = hz.unwrap_or(b.0).clamp(a.0, c.0);
    Extreme { sought, hz, within_hz: 0.5 * (c.0 - a.0), volts: b.1 }
}

/// The top of y = p + q·x + r·x² by least squares, x being the distance from `middle`.
fn top_of(tones: &[Tone], middle: f64) -> Option<f64> {
    let sum =
        |of: &dyn Fn(f64, f64) -> f64| tones.iter().map(|(hz, volts)| of(hz - middle, *volts)).sum::<f64>();
    let s = [0, 1, 2, 3, 4].map(|power| sum(&|x, _| x.powi(power)));
    let t = [0, 1, 2].map(|power| sum(&|x, y| x.powi(power) * y));
    // Cramer's rule for q and r.
    let det = |m: [[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let all = det([[s[0], s[1], s[2]], [s[1], s[2], s[3]], [s[2], s[3], s[4]]]);
    let q = det([[s[0], t[0], s[2]], [s[1], t[1], s[3]], [s[2], t[2], s[4]]]) / all;
    let r = det([[s[0], s[1], t[0]], [s[1], s[2], t[1]], [s[2], s[3], t[2]]]) / all;
    let top = middle - q / (2.0 * r);
    top.is_finite().then_some(top)
}
