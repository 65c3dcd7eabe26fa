//! The clearance stack by hand, and from entries to the sheet.
use kerf_and_coil::design::clearance::clearance;
use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::parse_entry;
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::model::geometry::Dims;
use kerf_and_coil::model::geometry::clearance::{OnFaces, air_flow, before_cone, hollow};
use kerf_and_coil::present::clearance::{notes, rows};
use kerf_and_coil::units::{Area, ExactLength, Power, UnitPrefs};

fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value)
}

#[test]
fn the_stack_by_hand() {
    let on = OnFaces {
        wrap: mm(3.0),
        gasket: mm(2.0),
        flange: mm(9.0),
        recess: mm(6.0),
        grille: mm(30.0),
        grille_inside: mm(28.0),
        fixing: mm(12.0),
    };
    let outside = Dims { width: mm(600.0), height: mm(400.0), depth: mm(300.0) };
    let all = on.over_all(outside);
    // 600 + 2 × 3; 400 + 2 × 3; 300 + grille 30 + wrap behind 3 + fixing 12.
    assert_eq!((all.width, all.height, all.depth), (mm(606.0), mm(406.0), mm(345.0)));
    // The flange stands out 2 + 9 − 6 = 5; 28 − 5 − 6 − 15 = 2.
    assert_eq!(on.cone_to_grille(mm(6.0), mm(15.0)), mm(2.0));
    assert!(on.cone_to_grille(mm(6.0), mm(18.0)) < ExactLength::ZERO);
    // A cone of 300 mm diameter: 75 mm.
    let cone = Area::from_square_metres(std::f64::consts::PI * 0.0225);
    assert!((before_cone(cone).expect("an area").millimetres() - 75.0).abs() < 1e-9);
    assert!((hollow(7.4).expect("a mass").litres() - 7.4).abs() < 1e-12);
    assert!(hollow(-1.0).is_err());
    // 100 W into air of 1.2 kg/m³ that warms by 10 K: 100 / (1.2 × 1005 × 10) = 8.29 L/s.
    let flow = air_flow(Power::from_watts(100.0), 1.2, 10.0).expect("a flow");
    assert!((flow * 1e3 - 8.2919).abs() < 1e-3, "{flow}");
    assert!(air_flow(Power::from_watts(100.0), 1.2, 0.0).is_err());
}

#[test]
fn entries_become_figures_and_notes_and_a_plain_box_has_none() {
    let prefs = UnitPrefs::default();
    let mut design = demo::design();
    let look = |design: &kerf_and_coil::design::document::Design| {
        let report = evaluate(&design.sheet);
        let enclosure = report.enclosure.as_ref().expect("a box");
        let found = clearance(&design.sheet, &report, enclosure);
        (rows(&found, &prefs), notes(&found, &prefs))
    };
    let (plain, none) = look(&design);
    assert!(none.is_empty(), "{none:?}");
    for (id, text) in [
        (FieldId::WrapThickness, "4"),
        (FieldId::GasketThickness, "2"),
        (FieldId::FlangeThickness, "10"),
        (FieldId::GrilleDepth, "25"),
        (FieldId::SurroundHeight, "8"),
        (FieldId::MechanicalTravel, "40"),
        (FieldId::FreeInFront, "40"),
        (FieldId::HollowWater, "3.5"),
        (FieldId::AirWarming, "15"),
    ] {
        let entry = parse_entry(id, text, &prefs).expect("an entry");
        design.sheet.set(id, entry).expect("within limits");
    }
    let (full, found) = look(&design);
    assert!(full.len() >= plain.len() + 4, "{full:?}");
    assert!(found.iter().any(|note| note.contains("runs into the grille")), "{found:?}");
    assert!(found.iter().any(|note| note.contains("before the cone")), "{found:?}");
    assert!(full.iter().all(|(_, value, _)| !value.contains("NaN")));
}
