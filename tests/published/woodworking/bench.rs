//! Panels under pressure against the theory of plates, the force of a crash, and what the saw is told to mind.
use kerf_and_coil::model::geometry::fence::NARROW;
use kerf_and_coil::model::geometry::stiffness::{Plate, peak_pressure};
use kerf_and_coil::model::geometry::{
    AsBuilt, Board, BoxSpec, CutCare, Dims, MeasuredFace, Saw, crash_newtons, outlines, plan, weight,
};
use kerf_and_coil::units::{Area, Length, Mass, Pressure, Volume};
use proptest::prelude::*;

use super::{mm, upright_strips};
use crate::assert_near;

/// A panel whose bending stiffness D is 1 N m and whose mass is 1 kg/m².
fn unit_plate(a: f64, b: f64) -> Plate {
    let thickness = 0.01_f64;
    Plate {
        a: Length::from_metres(a),
        b: Length::from_metres(b),
        thickness: Length::from_metres(thickness),
        modulus_pa: 12.0 * (1.0 - 0.3 * 0.3) / thickness.powi(3),
        density_kg_m3: 1.0 / thickness,
    }
}

/// Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells (1959), table 8: w = α q a⁴ / D, a the shorter side, for
/// b/a = 1, 1.2, 1.5, 2, 3 (from memory). Within one unit of the table's last digit: at 1.2 the series gives 0.005651.
#[test]
fn sag_of_a_simply_supported_plate() {
    for (ratio, alpha) in [(1.0, 0.00406), (1.2, 0.00564), (1.5, 0.00772), (2.0, 0.01013), (3.0, 0.01223)] {
        let sag = unit_plate(1.0, ratio).sag(Pressure::from_pascals(1.0)).unwrap();
        assert_near(sag.metres(), alpha, 0.000_011);
    }
}

/// Leissa, Vibration of Plates, NASA SP-160 (1969): ω a² √(m/D) of the first mode, a/b = 1, 2/3, 2 (from memory).
#[test]
fn first_mode_of_a_simply_supported_plate() {
    for (b, omega) in [(1.0, 19.739), (1.5, 14.256), (0.5, 49.348)] {
        let mode = unit_plate(1.0, b).first_mode().unwrap();
        assert_near(mode.hertz() * std::f64::consts::TAU, omega, 0.001);
    }
}

#[test]
fn a_brace_halves_the_longer_side() {
    let plate = unit_plate(1.0, 0.5);
    let braced = plate.braced();
    assert_near(braced.a.metres(), (1.0 - 0.01) / 2.0, 1e-12);
    assert_near(braced.b.metres(), 0.5, 0.0);
    assert!(braced.first_mode().unwrap().hertz() > plate.first_mode().unwrap().hertz());
    assert!(unit_plate(0.0, 1.0).sag(Pressure::from_pascals(1.0)).is_err());
    assert!(unit_plate(f64::NAN, 1.0).first_mode().is_err());
}

/// Adiabatic: 1 % less volume at 101325 Pa and γ = 1.4 is 1419 Pa more pressure, by hand.
#[test]
fn pressure_of_a_squeezed_volume() {
    let area = Area::from_square_centimetres(330.0);
    let pressure =
        peak_pressure(1.4 * 101_325.0, area, Length::from_millimetres(10.0), Volume::from_litres(33.0))
            .unwrap();
    assert_near(pressure.pascals(), 1418.55, 0.01);
    assert!(peak_pressure(1.0, area, Length::from_millimetres(1.0), Volume::from_litres(0.0)).is_err());
}

/// 49 CFR 571.207 S4.2(a), (b): 20 times the mass in kilograms times 9.8, in newtons.
#[test]
fn force_of_a_crash() {
    let spec =
        BoxSpec::plain(Dims { width: mm(600.0), height: mm(400.0), depth: mm(400.0) }, Board::mdf(mm(18.0)));
    let build = plan(&spec, &AsBuilt::new()).unwrap();
    let weight = weight(&spec, &build.current().assembly, Some(Mass::from_kilograms(5.0)));
    // No driver's hole, no driver; the shell by hand: outside less inside.
    let wood = (600.0 * 400.0 * 400.0 - 564.0 * 364.0 * 364.0) * 1e-9 * 740.0;
    assert_near(weight.total.kilograms(), wood, 1e-9);
    assert_near(crash_newtons(weight.total), 20.0 * 9.8 * wood, 1e-6);
    for (axis, middle) in [200.0, 300.0, 200.0].into_iter().enumerate() {
        assert_near(weight.centre_mm[axis], middle, 1e-9);
    }
}

fn boxes() -> impl Strategy<Value = BoxSpec> {
    (200_i64..900, 200_i64..600, 200_i64..700, 120_i64..250).prop_map(|(w, h, d, t)| {
        let side = |value: i64| mm(value as f64);
        let dims = Dims { width: side(w), height: side(h), depth: side(d) };
        BoxSpec::plain(dims, Board::mdf(mm(t as f64 / 10.0)))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// Longer first, equal never split, and what rides on the fence is never shorter than the fence is far.
    #[test]
    fn the_order_at_the_saw_is_a_safe_one(spec in boxes()) {
        let planned = plan(&spec, &AsBuilt::new()).unwrap();
        let mut last = None;
        for setting in &planned.fence {
            prop_assert!(last.is_none_or(|last| setting.size < last), "a size is set twice, or a shorter one first");
            last = Some(setting.size);
            for cut in &setting.cuts {
                prop_assert!(cut.riding >= setting.size, "a crosscut rides on its short edge");
            }
            prop_assert_eq!(setting.at_table(spec.boards.shell.thickness), setting.size);
        }
        let wide = Saw { reach: mm(10_000.0), least_ride: mm(1.0) };
        let small = Saw { reach: mm(1.0), least_ride: mm(10_000.0) };
        for setting in &planned.fence {
            prop_assert_eq!(setting.cares(wide).is_empty(), setting.size >= NARROW);
            prop_assert!(setting.cares(small).starts_with(&[CutCare::BeyondReach, CutCare::ShortRide]));
        }
    }

    /// Area of all outlines times thickness is the wood of the cut list.
    #[test]
    fn outlines_are_as_large_as_the_cut_list(spec in boxes()) {
        let planned = plan(&spec, &AsBuilt::new()).unwrap();
        let area: f64 = outlines(planned.current())
            .iter()
            .map(|outline| outline.size[0].metres() * outline.size[1].metres())
            .sum();
        prop_assert!((area - planned.board_area().square_metres()).abs() < 1e-9);
    }
}

/// Wide face up, blade away from the fence: at 45 degrees the table's side is one thickness narrower.
#[test]
fn a_bevelled_strip_is_set_by_its_narrow_face() {
    let mut spec =
        BoxSpec::plain(Dims { width: mm(600.0), height: mm(400.0), depth: mm(400.0) }, Board::mdf(mm(18.0)));
    spec.strips = Some(upright_strips());
    let planned = plan(&spec, &AsBuilt::new()).unwrap();
    let bevelled = planned.fence.iter().find(|setting| setting.measured_on == MeasuredFace::Wide).unwrap();
    assert_eq!(bevelled.size, mm(75.0));
    assert_near(bevelled.at_table(mm(18.0)).millimetres(), 57.0, 1e-3);
}
