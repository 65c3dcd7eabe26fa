//! Ports and passive radiators against the tables of `data/acoustics/tables`.
use super::{Table, rig};
use crate::assert_near;
use kerf_and_coil::model::acoustics::{
    Air, Enclosure, End, Load, Losses, Opening, PassiveRadiator, SealedChamber, minimum_port_area,
};
use kerf_and_coil::units::{Area, Compliance, Frequency, Length, Mass, Volume};

// Table end_corrections.csv: 0.8217·a flanged (Norris & Sheng 1989, Nomura 1960), 0.6133·a free (Levine & Schwinger).
#[test]
fn round_end_corrections_match_the_literature() {
    let table = Table::read("tables/end_corrections.csv");
    let printed = |case: &str| {
        table.rows().find(|row| row.text("case").starts_with(case)).unwrap().number("value_over_radius")
    };
    let opening = Opening::Round { diameter: Length::from_metres(0.2) };
    for (end, case) in [(End::Flanged, "flanged circular"), (End::Free, "unflanged")] {
        let correction = opening.end_correction(end).unwrap().metres();
        assert_near(correction / 0.1, printed(case), 1e-6);
    }
    assert!(opening.end_correction(End::RectWall).is_err());
}

// Table slot_end_corrections.csv: rigid rectangular piston, checked there by Monte Carlo; 1e-5 m.
#[test]
fn slot_end_corrections_match_the_table() {
    for row in Table::read("tables/slot_end_corrections.csv").rows() {
        let opening = Opening::Slot {
            width: Length::from_metres(row.number("width_m")),
            height: Length::from_metres(row.number("height_m")),
        };
        for (end, column) in [
            (End::RectFlanged, "delta_rect_flanged_m"),
            (End::RectWall, "delta_rect_wall_m"),
            (End::RectCorner, "delta_rect_corner_m"),
            (End::Flanged, "circ_flanged_same_area_m"),
            (End::Free, "circ_free_same_area_m"),
        ] {
            let correction = opening.end_correction(end).unwrap().metres();
            assert_near(correction, row.number(column), 1e-5);
        }
    }
}

// The reference cases give port lengths for round tunings (`derived.rear_port.fb_hz` in their files).
#[test]
fn the_length_for_a_tuning_matches_the_cases() {
    let volume = Volume::from_cubic_metres(0.050_821_334_986_1);
    let port = rig::port_for(28.0, volume);
    assert_near(port.length.metres(), 0.516_491_420_693, 1e-11);
    let tuning = port.tuning(volume, &Air::standard()).unwrap();
    assert_near(tuning.hertz(), 28.0, 1e-9);
    // 120 Hz would need a port shorter than its end corrections.
    let none = port.length_for_tuning(Frequency::from_hertz(120.0), volume, &Air::standard()).unwrap();
    assert_eq!(none, None);
}

// Table small_min_port_area.csv: Small 1973, 0.8·fb·Vd, from memory.
#[test]
fn the_port_area_rule_matches_the_table() {
    for row in Table::read("tables/small_min_port_area.csv").rows() {
        let sd = Area::from_square_metres(0.033);
        let xmax = Length::from_metres(row.number("vd_m3_peak") / 0.033);
        let area = minimum_port_area(Frequency::from_hertz(row.number("fb_hz")), sd, xmax);
        let expected = row.number("sv_min_m2");
        assert_near(area.square_metres(), expected, 1e-5 * expected);
    }
}

// Table passive_radiator_notch.csv: fb/fp = √(1 + δ) and the response's zero at fp (Small 1974).
#[test]
fn a_passive_radiator_is_silent_at_its_own_resonance() {
    let air = Air::standard();
    let volume = Volume::from_litres(40.0);
    let (sd, mms) = (0.05_f64, 0.42);
    for row in Table::read("tables/passive_radiator_notch.csv").rows() {
        let delta = row.number("delta_Cap_over_Cab");
        // δ = Cap/Cab, Cab = V/ρc².
        let cms = delta * volume.cubic_metres()
            / (air.density_kg_m3() * air.speed_of_sound_m_s().powi(2))
            / (sd * sd);
        let radiator = PassiveRadiator {
            sd: Area::from_square_metres(sd),
            mms: Mass::from_kilograms(mms),
            cms: Compliance::from_metres_per_newton(cms),
            rms_ns_m: 0.0,
            count: 1,
        };
        let fp = 1.0 / (std::f64::consts::TAU * (mms * cms).sqrt());
        let fb = radiator.tuning(volume, &air).unwrap().hertz();
        assert_near(fb / fp, row.number("fb_over_fp"), 1e-5);
        let network = Enclosure::PassiveRadiator {
            rear: SealedChamber { volume, losses: Losses::default() },
            radiator,
        }
        .network(Load::single(rig::a10()), air)
        .unwrap();
        let notch = row.number("notch_fp_over_fb") * fb;
        let response = rig::at_2v83(&network, &[notch * 0.99, notch, notch * 1.01]);
        let levels = &response.spl_db;
        assert!(levels[1] < levels[0] - 40.0 && levels[1] < levels[2] - 40.0, "{levels:?}");
    }
}
