//! Bands of IEC 61260 and weightings of IEC 61672 against their tables, and power over bands against closed forms.
use crate::assert_near;
use kerf_and_coil::model::measurement::{
    Band, Curve, THIRD_OCTAVE_TONES_HZ, TRIAL_POINTS, Weighting, bands, trial_frequencies,
};

fn rows(file: &str) -> Vec<Vec<f64>> {
    let path = format!("{}/tests/published/data/electrical/{file}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap();
    let number = |cell: &str| cell.parse().unwrap_or_else(|_| panic!("{cell:?} is no number"));
    text.lines().skip(1).map(|line| line.split(',').map(number).collect()).collect()
}

// IEC 61260-1 (data/electrical/README.md), printed to four decimals.
#[test]
fn third_octave_bands_match_the_standard() {
    let table = rows("third_octave_bands.csv");
    let made = bands(3, 10.0, 20_000.0);
    assert_eq!(table.len(), 34);
    assert_eq!(made.len(), table.len());
    for (band, row) in made.iter().zip(&table) {
        let [_, _, mid, low, high] = row[..] else { panic!("five columns") };
        assert_near(band.mid_hz, mid, 5.1e-5);
        assert_near(band.low_hz, low, 5.1e-5);
        assert_near(band.high_hz, high, 5.1e-5);
    }
    let nominal: Vec<f64> = table.iter().map(|row| row[1]).filter(|hz| (20.0..=125.0).contains(hz)).collect();
    assert_eq!(nominal, THIRD_OCTAVE_TONES_HZ);
}

// For even b the middle frequencies lie half a band off 1 kHz (IEC 61260-1, 5.5), and bands leave no gap.
#[test]
fn even_bands_lie_beside_one_kilohertz_and_touch() {
    for b in [2, 6, 12, 24] {
        let made = bands(b, 20.0, 2000.0);
        assert!(made.iter().any(|band| (band.low_hz / 1000.0 - 1.0).abs() < 1e-12), "b = {b}");
        for pair in made.windows(2) {
            assert_near(pair[0].high_hz / pair[1].low_hz, 1.0, 1e-12);
        }
    }
    let points = trial_frequencies();
    assert_eq!(points.len(), TRIAL_POINTS);
    // 10^1.3125 Hz and 10^2.2875 Hz.
    assert_near(points[0], 20.535, 5e-4);
    assert_near(points[39], 193.87, 5e-3);
    assert!(
        bands(3, f64::NAN, 100.0).is_empty()
            && bands(3, 0.0, 100.0).is_empty()
            && bands(0, 1.0, 9.0).is_empty()
    );
}

// IEC 61672-1 table 3, rounded to 0.1 dB, and annex E at the exact frequencies to three decimals.
#[test]
fn weightings_match_the_table() {
    let table = rows("iec61672_weighting_10_315Hz.csv");
    assert_eq!(table.len(), 16);
    for row in &table {
        let [_, hz, a, c, a_formula, c_formula] = row[..] else { panic!("six columns") };
        assert_near(Weighting::A.gain_db(hz), a, 0.0501);
        assert_near(Weighting::C.gain_db(hz), c, 0.0501);
        assert_near(Weighting::A.gain_db(hz), a_formula, 6e-4);
        assert_near(Weighting::C.gain_db(hz), c_formula, 6e-4);
        assert_near(Weighting::Z.gain_db(hz), 0.0, 0.0);
        assert_near(Weighting::C.taken_off(80.0, hz), 80.0 - c, 0.0501);
    }
    assert!(Weighting::C.fits_bass() && Weighting::Z.fits_bass() && !Weighting::A.fits_bass());
    assert_near(Weighting::A.gain_db(f64::NAN), 0.0, 0.0);
}

// A line of s dB over the band's width w, as a power mean over log f: 10·lg((10^(s/20) − 10^(−s/20))/(s·ln10/10)).
#[test]
fn power_over_a_band_is_the_integral() {
    for (slope_db_per_octave, per_octave) in [(12.0_f64, 1), (24.0, 3), (-12.0, 6)] {
        let points: Vec<(f64, f64)> = (0..200)
            .map(|i| 10.0 * 1.02_f64.powi(i))
            .map(|hz| (hz, slope_db_per_octave * (hz / 50.0).log2()))
            .collect();
        let curve = Curve::new(&points).unwrap();
        let band = Band::around(50.0, per_octave);
        let rise = slope_db_per_octave * (band.high_hz / band.low_hz).log2();
        let x = rise * std::f64::consts::LN_10 / 10.0;
        let expected = 10.0 * ((2.0 * (x / 2.0).sinh()) / x).log10();
        // Sixteen trapezoids of a band that rises by at most 12 dB.
        assert_near(curve.over(band).unwrap(), expected, 0.011);
    }
}

#[test]
fn a_flat_curve_stays_flat_and_a_curve_is_straight_over_the_logarithm() {
    let flat = Curve::new(&[(10.0, 80.0), (300.0, 80.0)]).unwrap();
    assert!(flat.for_trial().iter().all(|level| (level - 80.0).abs() < 1e-9));
    let line = Curve::new(&[(80.0, 90.0), (20.0, 70.0)]).unwrap();
    assert_near(line.at(40.0).unwrap(), 80.0, 1e-12);
    assert_eq!(line.at(81.0), None);
    assert_eq!(line.at(19.0), None);
    assert!(line.for_trial().last().unwrap().is_nan());
    let dense: Vec<(f64, f64)> = (0..150).map(|i| (15.0 * 1.02_f64.powi(i), 70.0)).collect();
    assert!(
        Curve::new(&dense).unwrap().smoothed(6).levels_db().iter().all(|level| (level - 70.0).abs() < 1e-9)
    );
    assert!(Curve::new(&[(10.0, f64::NAN), (20.0, 1.0)]).is_err());
    assert!(Curve::new(&[(10.0, 1.0), (10.0, 2.0)]).is_err());
    assert_near(
        Curve::new(&[(10.0, 1.0), (10.0, 2.0), (10.0, 6.0), (20.0, 0.0)]).unwrap().levels_db()[0],
        3.0,
        1e-12,
    );
}
