//! The clearance stack by hand, and from entries to the sheet.
use kerf_and_coil::design::clearance::{Doubt, clearance};
use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::parse_entry;
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::BoxReport;
use kerf_and_coil::design::warnings::Warning;
use kerf_and_coil::model::geometry::beside::{bodies_beside, off_roll};
use kerf_and_coil::model::geometry::clearance::{OnFaces, air_flow, before_cone, hollow};
use kerf_and_coil::model::geometry::{Axis, Dimension, Dims, PartId, plan};
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

/// A front of 900 × 400 with one flange of 300 in its middle: 300 × 400 free on both sides.
#[test]
fn amplifiers_lie_beside_the_cone_by_hand() {
    let cone = [([450.0, 200.0], 150.0)];
    // 280 + 2 × 10 across, 100 with 10 before, between and behind: three rows in 400, on both sides.
    assert_eq!(bodies_beside([900.0, 400.0], &cone, [280.0, 100.0]), 6);
    // A millimetre longer it only goes in turned: two columns of one each side would take 2 × 110 + 10.
    assert_eq!(bodies_beside([900.0, 400.0], &cone, [281.0, 100.0]), 4);
    assert_eq!(bodies_beside([900.0, 400.0], &cone, [390.0, 290.0]), 0);
    // Without a cone 890/310 × 390/110 = 2 × 3, or turned 890/110 × 390/310 = 8 × 1.
    assert_eq!(bodies_beside([900.0, 400.0], &[], [300.0, 100.0]), 8);
    assert_eq!(bodies_beside([900.0, 400.0], &cone, [f64::NAN, 100.0]), 0);
}

/// A box of 600 × 400 × 300 with 30 turned in all round, off rolls of 1.4 m, 0.7 m and 0.4 m.
#[test]
fn wrap_off_a_roll_by_hand() {
    let sides = [[360.0, 460.0]; 2];
    let around = [[360.0, 660.0], [460.0, 660.0], [360.0, 660.0], [460.0, 660.0]];
    let pieces: Vec<[f64; 2]> = sides.into_iter().chain(around).collect();
    // 2 × 660 = 1320 of 1400: two strips of 460 and 360; both sides beside each other, 2 × 460 across: 360 more.
    let found = off_roll(&pieces, 1400.0).expect("a length");
    assert_eq!((found.length, found.too_wide), (460.0 + 360.0 + 360.0, 0));
    // One of the faces in each strip: 2 × 460 + 2 × 360, and the sides one by one.
    assert_eq!(off_roll(&pieces, 700.0).expect("a length").length, 2.0 * 460.0 + 4.0 * 360.0);
    // 360 across and 660 or 460 along; those of 460 × 660 do not go.
    let narrow = off_roll(&pieces, 400.0).expect("a length");
    assert_eq!((narrow.length, narrow.too_wide), (2.0 * 660.0 + 2.0 * 460.0, 2));
    assert!(off_roll(&pieces, f64::NAN).is_err() && off_roll(&[[-1.0, 2.0]], 500.0).is_err());
}

/// What is closed in is a warning, and a box with everything on it and room before it has none.
#[test]
fn what_is_closed_in_is_warned_about() {
    let warned = |entries: &[(FieldId, &str)]| {
        let mut sheet = demo::design().sheet;
        for (id, text) in entries {
            sheet
                .set(*id, parse_entry(*id, text, &UnitPrefs::default()).expect("an entry"))
                .expect("a field");
        }
        let report = evaluate(&sheet);
        let is = |w: &&Warning| matches!(w, Warning::Clearance(_));
        report.warnings.iter().filter(is).cloned().collect::<Vec<_>>()
    };
    assert_eq!(warned(&[(FieldId::FreeInFront, "150"), (FieldId::GasketThickness, "2")]), []);
    // A cone of 330 cm² wants a quarter of 205 mm: 51 mm.
    assert_eq!(warned(&[(FieldId::FreeInFront, "51")]), [Warning::Clearance(Doubt::Cone)]);
    assert_eq!(warned(&[(FieldId::FreeInFront, "52")]), []);
    let on_top = |length, width| {
        warned(&[
            (FieldId::AmplifierPlace, "over the box"),
            (FieldId::AmplifierLength, length),
            (FieldId::AmplifierWidth, width),
            (FieldId::AmplifierBodies, "4"),
        ])
    };
    assert_eq!(on_top("100", "60"), []);
    // Two of these side by side are longer than the box of 710.
    let found = on_top("400", "200");
    assert!(matches!(found[..], [Warning::Clearance(Doubt::Bodies(0 | 1, 4))]), "{found:?}");
}

/// The demo's sides are 293 mm high between boards of 18.1 mm, so that the box is 329.2 mm high, by hand; front and back are
/// cut 330, all that its space has room for.
#[test]
fn covers_that_stand_over_are_told_and_counted() {
    use kerf_and_coil::present::tables::trims;
    let prefs = UnitPrefs::default();
    let design = demo::design();
    let report = evaluate(&design.sheet);
    let enclosure = report.enclosure.as_ref().expect("a box");
    assert!((enclosure.outside.height.millimetres() - 329.2).abs() < 1e-9);
    let told = trims(enclosure, &prefs);
    assert_eq!(told, ["front, back: 0.8\u{a0}mm higher than the box: trim flush after gluing."]);
    let found = clearance(&design.sheet, &report, enclosure);
    assert_eq!(found.over_all.height, mm(330.0));
    let left = found.spare.expect("a space").map(|(axis, left)| (axis, left.millimetres()));
    assert!(left.contains(&(Axis::Height, 0.0)), "{left:?}");
    // A warning that names a board says it once.
    let built = [((PartId::Back, Dimension::Height), mm(332.0))].into();
    let plan = plan(&enclosure.spec, &built).expect("a box");
    let twice = BoxReport { plan: plan.into(), ..(**enclosure).clone() };
    assert_eq!(trims(&twice, &prefs), ["front: 0.8\u{a0}mm higher than the box: trim flush after gluing."]);
}
