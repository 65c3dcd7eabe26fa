//! Push-pull pairs against ngspice, stuffing against its limit, flares against scipy, and the size of a description.
use super::{Table, data, reference_cases, rig};
use crate::assert_near;
use kerf_and_coil::design::case::case_csv;
use kerf_and_coil::model::acoustics::{
    Air, End, Intake, Load, Losses, Opening, SealedChamber, Wiring, closed_box_frequency, respond,
};
use kerf_and_coil::units::{Length, Voltage, Volume};

/// Two drivers simulated one by one with a stiff chamber between them (`data/acoustics/push_pull/README.md`).
#[test]
fn push_pull_pairs_agree_with_two_simulated_drivers() {
    for name in ["pp1", "pp2"] {
        let json = std::fs::read_to_string(data(&format!("push_pull/{name}.json"))).unwrap();
        let ours = Table::parse(&case_csv(&json).unwrap());
        let theirs = Table::read(&format!("push_pull/{name}.csv"));
        assert_eq!(ours.header(), theirs.header());
        assert_eq!(theirs.rows().count(), 200);
        for (a, e) in ours.rows().zip(theirs.rows()) {
            assert_near(a.number("spl_db"), e.number("spl_db"), 0.01);
            let turn = a.number("p_phase_deg") - e.number("p_phase_deg");
            assert_near((turn + 180.0).rem_euclid(360.0) - 180.0, 0.0, 0.1);
            assert_near(a.number("x_peak_mm") / e.number("x_peak_mm"), 1.0, 1e-3);
            assert_near(a.number("z_ohm") / e.number("z_ohm"), 1.0, 1e-3);
            assert_near(a.number("z_phase_deg"), e.number("z_phase_deg"), 0.1);
            assert_near(a.number("gd_ms"), e.number("gd_ms"), 0.02 + 0.002 * e.number("gd_ms").abs());
        }
    }
}

/// A pair has half the Vas: it has in half the volume the resonance of one driver in the whole.
#[test]
fn a_pair_needs_half_the_volume() {
    let air = Air::standard();
    let one = Load::single(rig::a10());
    let two = Load { driver: rig::a10(), wiring: Wiring::of_drivers(1, 2) }.in_pairs().unwrap();
    let fc =
        |load: &Load, litres| closed_box_frequency(load, Volume::from_litres(litres), &air).unwrap().hertz();
    assert_near(fc(&two, 15.0), fc(&one, 30.0), 1e-9);
    assert!(one.in_pairs().is_err());
}

// Isothermal air is softer by γ = 1.4: a box that acts 40 % larger is the most stuffing can do (Small 1972, from memory).
#[test]
fn stuffing_makes_a_box_act_larger_up_to_a_limit() {
    let plain = SealedChamber { volume: Volume::from_litres(30.0), losses: Losses::default() };
    assert_near(plain.stuffed(0.4).unwrap().volume.litres(), 42.0, 1e-9);
    assert!(plain.stuffed(0.41).is_err());
    assert!(plain.stuffed(f64::NAN).is_err());
}

#[test]
fn flares_agree_with_an_adaptive_integration() {
    let mut count = 0;
    for row in Table::read("ports/flares.csv").rows() {
        let opening = Opening::Round { diameter: Length::from_metres(2.0 * row.number("radius_m")) };
        let radius = Length::from_metres(row.number("flare_m"));
        let found = opening.end_correction(End::Flared { radius }).unwrap();
        assert_near(found.metres(), row.number("correction_m"), 1e-5);
        count += 1;
    }
    assert_eq!(count, 15);
}

/// No more sound than power taken, wherever the lumped model holds (ka small, efficiency in the band below 3 %).
#[test]
fn the_reference_boxes_give_less_sound_than_they_take_power() {
    let mut count = 0;
    for path in reference_cases() {
        let json = std::fs::read_to_string(&path).unwrap();
        let case: serde_json::Value = serde_json::from_str(&json).unwrap();
        let number = |at: &str| case.pointer(at).and_then(serde_json::Value::as_f64).unwrap_or(0.0);
        let (volts, source) = (number("/source/e_rms_v"), number("/source/r_source_ohm"));
        let rho_c = number("/air/rho_kg_m3") * number("/air/c_m_s");
        assert!(rho_c > 300.0);
        for row in Table::parse(&case_csv(&json).unwrap()).rows() {
            let pressure = 20e-6 * 10f64.powf(row.number("spl_db") / 20.0);
            let sound = std::f64::consts::TAU * pressure * pressure / rho_c;
            let (z, phase) = (row.number("z_ohm"), row.number("z_phase_deg").to_radians());
            let current = volts / (z * phase.cos() + source).hypot(z * phase.sin());
            let taken = current * current * z * phase.cos();
            assert!(sound < taken, "{}: {sound} W of {taken} W", path.display());
            count += 1;
        }
    }
    assert_eq!(count, 21 * 200);
}

/// The power the model says is taken is what its own resistances can use up: none is negative.
#[test]
fn power_taken_is_positive() {
    let network = rig::vented(rig::a10(), Volume::from_litres(50.0), 28.0, Some(7.0));
    let drive = Voltage::from_volts(10.0).into();
    let response =
        respond(&network, drive, &kerf_and_coil::model::numeric::log_grid(5.0, 500.0, 200)).unwrap();
    assert!(Intake::of(&drive, &response).power_w.iter().all(|watts| *watts > 0.0));
}

/// An enclosure type is one description of some dozens of lines; everything else is shared.
#[test]
fn a_type_is_one_short_file() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/model/acoustics/enclosure");
    let mut types = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        if name == "build" {
            continue;
        }
        let lines = std::fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 90, "{name} has {lines} lines");
        types += 1;
    }
    assert_eq!(types, 8);
}
