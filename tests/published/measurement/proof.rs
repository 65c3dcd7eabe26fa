//! The built box by its impedance, on the independent reference circuits; the sub with the front speakers, on phasors.
use crate::acoustics::Table;
use crate::assert_near;
use kerf_and_coil::model::acoustics::CoilImpedance;
use kerf_and_coil::model::measurement::{
    FrontLevels, Peaks, Polarity, Proof, ProofDriver, ProvenBox, front_phase, polarity, prove,
};
use kerf_and_coil::units::{Frequency, Inductance, Resistance, Volume};
use proptest::prelude::*;
use serde_json::Value;

fn hz(value: f64) -> Frequency {
    Frequency::from_hertz(value)
}

fn case(name: &str) -> Value {
    let path = crate::acoustics::data(&format!("cases/{name}.json"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Frequencies below 100 Hz at which the reference impedance is largest and smallest, by a parabola over log f.
fn extremes(name: &str) -> (Vec<f64>, Vec<f64>) {
    let table = Table::read(&format!("cases/{name}.csv"));
    let (f, z) = (table.column("f_hz"), table.column("z_ohm"));
    let step = (f[1] / f[0]).ln();
    let (mut peaks, mut dips) = (Vec::new(), Vec::new());
    for i in 1..f.len() - 1 {
        let (a, b, c) = (z[i - 1], z[i], z[i + 1]);
        let at = f[i] * (step * 0.5 * (a - c) / (a - 2.0 * b + c)).exp();
        if at < 100.0 && b > a && b > c {
            peaks.push(at);
        }
        if at < 100.0 && b < a && b < c {
            dips.push(at);
        }
    }
    (peaks, dips)
}

/// A tone generator in steps of 0.2 Hz finds a peak to half of that; twice the standard uncertainty must cover it.
const RESOLUTION_HZ: f64 = 0.1;

/// The coil of a case, for one driver; in any balanced wiring it keeps its share of the resistance.
fn coil(case: &Value) -> CoilImpedance {
    let coil = &case["driver"]["coil"];
    let number = |key: &str| coil[key].as_f64().unwrap();
    let henries = |key: &str| Inductance::from_henries(number(key));
    match coil["model"].as_str().unwrap() {
        "none" => CoilImpedance::None,
        "L" => CoilImpedance::L { le: henries("le_h") },
        "LR2" => CoilImpedance::Lr2 {
            le: henries("le_h"),
            l2: henries("l2_h"),
            r2: Resistance::from_ohms(number("r2_ohm")),
        },
        "semi" => {
            CoilImpedance::Semi { leb: henries("leb_h"), le: henries("le_h"), ke: number("ke"), rss: None }
        }
        other => panic!("{other}"),
    }
}

fn proven(name: &str) -> (ProvenBox, f64, f64) {
    let case = case(name);
    let driver = &case["derived"]["driver"];
    let count = case["derived"]["n_drivers"].as_f64().unwrap();
    let number = |key: &str| driver[key].as_f64().unwrap();
    let volume = case["enclosure"]["rear"]["volume_m3"].as_f64().unwrap();
    let (peaks, dips) = extremes(name);
    let (peaks, tuning) = if name.starts_with("closed") {
        let [fc] = peaks[..] else { panic!("{name}: {peaks:?}") };
        (Peaks::Closed(hz(fc)), case["derived"]["fc_hz"].as_f64().unwrap())
    } else {
        let ([low, high], [dip]) = (&peaks[..], &dips[..]) else { panic!("{name}: {peaks:?} {dips:?}") };
        let peaks = Peaks::Vented { low: hz(*low), high: hz(*high), dip: Some(hz(*dip)), share: None };
        (peaks, case["derived"]["rear_port"]["fb_hz"].as_f64().unwrap())
    };
    let proof = Proof {
        driver: ProofDriver {
            re: Resistance::from_ohms(case["driver"]["re_ohm"].as_f64().unwrap()),
            coil: coil(&case),
            fs: hz(number("fs_hz")),
            qes: number("qes"),
            qms: number("qms"),
            vas: Volume::from_cubic_metres(count * number("vas_m3")),
        },
        // The curves are impedances: a reading behind a resistor so large follows them.
        resistor: Resistance::from_ohms(1e5),
        fs: hz(number("fs_hz")),
        peaks,
        resolution: hz(RESOLUTION_HZ),
    };
    (prove(&proof).unwrap(), volume, tuning)
}

// Reference circuits, data/acoustics/README.md: impedance by ngspice and two other programs, losses down to QL 7,
// with and without coil inductance. What was put in must come out within twice the uncertainty stated.
#[test]
fn the_reference_boxes_are_proven_by_their_impedance() {
    for name in ["closed/cb1", "closed/cb2", "closed/cb3", "vented/vb1", "vented/vb2", "vented/vb3"] {
        let (found, volume, tuning) = proven(name);
        println!(
            "{name}: {:.2} ± {:.2} L of {:.2} L, {:.2} ± {:.2} Hz of {tuning:.2} Hz",
            found.volume.litres(),
            found.volume_uncertainty.litres(),
            1e3 * volume,
            found.tuning.hertz(),
            found.tuning_uncertainty.hertz()
        );
        let (apart, stated) = (found.volume.cubic_metres() - volume, found.volume_uncertainty.cubic_metres());
        assert!(apart.abs() <= 2.0 * stated, "{name}: {apart} m³ off, ± {stated}");
        assert_near(found.volume.cubic_metres() / volume, 1.0, 0.018);
        assert_near(found.tuning.hertz(), tuning, 2.0 * found.tuning_uncertainty.hertz());
        assert!(stated / volume < 0.05, "{name}: an uncertainty that covers everything says nothing");
    }
}

/// A driver without inductance, behind a resistor so large that readings follow the impedance.
fn plain(fs: f64, vas: Volume, peaks: Peaks) -> Proof {
    let driver = ProofDriver {
        re: Resistance::from_ohms(3.4),
        coil: CoilImpedance::None,
        fs: hz(fs),
        qes: 0.45,
        qms: 5.0,
        vas,
    };
    Proof { driver, resistor: Resistance::from_ohms(1e5), fs: hz(fs), peaks, resolution: hz(0.2) }
}

// 1 Hz at the peak is about a tenth of the volume: dV/V = 2·fc·dfc/(fc² − fs²), 9.8 % at fs 28 Hz and fc 40 Hz.
#[test]
fn one_hertz_is_a_tenth_of_the_volume() {
    let at = |fc: f64| {
        prove(&plain(28.0, Volume::from_litres(60.0), Peaks::Closed(hz(fc)))).unwrap().volume.litres()
    };
    // 60/((40/28)² − 1) = 57.647 L without the small leak assumed.
    assert_near(at(40.0), 57.647, 0.6);
    assert!(1.0 - at(41.0) / at(40.0) > 0.08);
}

// The driver's suspension is softer today: its mass is the same, so that the same peak of the box means the same volume.
// V = ρc²Sd²/(Mms(ωc² − ωs²)), by hand: 60 L·28²/(40² − 26²) = 50.909 L.
#[test]
fn a_softer_suspension_is_no_larger_box() {
    let mut proof = plain(28.0, Volume::from_litres(60.0), Peaks::Closed(hz(40.0)));
    proof.fs = hz(26.0);
    assert_near(prove(&proof).unwrap().volume.litres(), 50.909, 0.6);
}

proptest! {
    /// Choose box and driver, work out the lossless peaks from x² − (fs²(1+α) + fb²)x + fs²fb² = 0, and prove the box;
    /// the little leak that is assumed moves it by less than is stated.
    #[test]
    fn chosen_boxes_come_back(fs in 15.0..60.0_f64, h in 0.6..1.6_f64, alpha in 0.4..4.0_f64, vas in 5.0..300.0_f64) {
        let fb = h * fs;
        let (sum, product) = (fs * fs * (1.0 + alpha) + fb * fb, (fs * fb).powi(2));
        let root = (sum * sum - 4.0 * product).sqrt();
        let (low, high) = (((sum - root) / 2.0).sqrt(), ((sum + root) / 2.0).sqrt());
        let vas = Volume::from_litres(vas);
        let peaks = Peaks::Vented { low: hz(low), high: hz(high), dip: Some(hz(fb)), share: None };
        let found = prove(&plain(fs, vas, peaks)).unwrap();
        let (volume, litres) = (found.volume.litres(), vas.litres() / alpha);
        prop_assert!((volume - litres).abs() < 2.2 * found.volume_uncertainty.litres() + 0.03 * litres, "{volume} for {litres}");
        prop_assert!((found.tuning.hertz() / fb - 1.0).abs() < 0.03, "{:?} for {fb}", found.tuning);
    }

    /// Any numbers give finite figures or an error.
    #[test]
    fn any_frequencies_are_proven_or_refused(f in prop::collection::vec(prop_oneof![Just(f64::NAN), Just(0.0), -1e9..1e9, 1.0..100.0_f64], 9)) {
        let vas = Volume::from_cubic_metres(f[5]);
        let vented = Peaks::Vented { low: hz(f[1]), high: hz(f[2]), dip: Some(hz(f[3])), share: Some(f[6]) };
        for peaks in [Peaks::Closed(hz(f[1])), vented] {
            let mut proof = plain(f[0], vas, peaks);
            (proof.resolution, proof.driver.qes, proof.driver.fs) = (hz(f[4]), f[7], hz(f[8]));
            let Ok(found) = prove(&proof) else { continue };
            prop_assert!(found.volume.litres().is_finite() && found.volume_uncertainty.litres().is_finite());
            prop_assert!(found.tuning.hertz().is_finite() && found.tuning_uncertainty.hertz().is_finite());
            prop_assert!(found.loss.is_none_or(|loss| loss.low.is_finite() && loss.low > 0.0));
        }
    }
}

// Equal levels: in phase +6.02 dB, a right angle +3.01 dB, 120° ±0 dB.
#[test]
fn the_polarity_follows_from_the_levels() {
    let at = |both_db| {
        let levels = FrontLevels {
            hz: 80.0,
            sub_db: 80.0,
            front_db: 80.0,
            both_db,
            turned_db: None,
            delayed_db: None,
        };
        front_phase(levels, 0.0)
    };
    assert_near(at(86.0206).unwrap().cosine, 1.0, 1e-5);
    assert_near(at(83.0103).unwrap().cosine, 0.0, 1e-5);
    assert_near(at(80.0).unwrap().cosine, -0.5, 1e-12);
    assert_eq!(polarity(&[at(80.0).unwrap()]), Polarity::Turn);
    assert_eq!(polarity(&[at(85.0).unwrap()]), Polarity::Leave);
    assert_eq!(polarity(&[at(83.0).unwrap()]), Polarity::NoMatter);
    assert_eq!(polarity(&[]), Polarity::NoMatter);
    assert!(at(95.0).is_err(), "louder than both together can be");
    assert!(at(f64::NAN).is_err());
}
