//! Fractional-octave bands: middle frequencies and edges.

/// The octave ratio G of base-ten bands.
///
/// # Source
/// IEC 61260-1:2014, 5.2: G = 10^(3/10).
const OCTAVE_DECADES: f64 = 0.3;

/// Points of a stored trial curve: the twelfth-octave bands between 20 Hz and 200 Hz.
pub const TRIAL_POINTS: usize = 40;

/// Nominal middle frequencies of the third-octave bands from 20 Hz to 125 Hz, the tones played in the car.
///
/// # Source
/// IEC 61260-1:2014, annex E (as ISO 266).
pub const THIRD_OCTAVE_TONES_HZ: [f64; 9] = [20.0, 25.0, 31.5, 40.0, 50.0, 63.0, 80.0, 100.0, 125.0];

/// One band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Exact middle frequency.
    pub mid_hz: f64,
    /// Lower edge.
    pub low_hz: f64,
    /// Upper edge.
    pub high_hz: f64,
}

impl Band {
    /// The band of the designator 1/`per_octave` around any frequency, on the grid or not.
    #[must_use]
    pub fn around(mid_hz: f64, per_octave: u32) -> Self {
        let half = 10_f64.powf(0.5 * OCTAVE_DECADES / f64::from(per_octave.max(1)));
        Self { mid_hz, low_hz: mid_hz / half, high_hz: mid_hz * half }
    }
}

/// The bands of the designator 1/`per_octave` whose middle lies between `low_hz` and `high_hz`, ascending.
///
/// f = 1000·G^(x/b) for odd b, 1000·G^((2x+1)/2b) for even b; edges f·G^(∓1/2b). Nothing for limits that are not
/// positive or wider than 1 mHz to 1 MHz.
///
/// # Source
/// IEC 61260-1:2014, 5.4 to 5.6.
#[must_use]
pub fn bands(per_octave: u32, low_hz: f64, high_hz: f64) -> Vec<Band> {
    let valid = low_hz >= 1e-3 && high_hz <= 1e6 && (1..=96).contains(&per_octave);
    if !valid {
        return Vec::new();
    }
    let b = f64::from(per_octave);
    let shift = if per_octave.is_multiple_of(2) { 0.5 } else { 0.0 };
    // The place of a frequency on the grid; the slack keeps a limit that is a middle frequency itself.
    let place = |hz: f64| (hz / 1000.0).log10() / OCTAVE_DECADES * b - shift;
    let first = (place(low_hz) - 1e-9).ceil() as i32;
    let last = (place(high_hz) + 1e-9).floor() as i32;
    (first..=last)
        .map(|x| 1000.0 * 10_f64.powf(OCTAVE_DECADES * (f64::from(x) + shift) / b))
        .map(|mid| Band::around(mid, per_octave))
        .collect()
}

/// The middle frequencies of a stored trial curve: 40 twelfth-octaves, 20.5 Hz to 193.9 Hz.
#[must_use]
pub fn trial_frequencies() -> Vec<f64> {
    bands(12, 20.0, 200.0).iter().map(|band| band.mid_hz).take(TRIAL_POINTS).collect()
}
