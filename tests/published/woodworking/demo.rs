//! The demo's box, through the whole evaluation: what the rounding to the tape may and may not do to it.
use kerf_and_coil::design::document::parse_entry;
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::BoxReport;
use kerf_and_coil::design::{demo, document::Sheet};
use kerf_and_coil::model::geometry::{Fact, Verdict};
use kerf_and_coil::units::UnitPrefs;
use std::rc::Rc;

fn built(changes: &[(FieldId, &str)]) -> Rc<BoxReport> {
    let mut sheet: Sheet = demo::design().sheet;
    for &(id, text) in changes {
        let entry = parse_entry(id, text, &UnitPrefs::default()).expect("a number");
        let _ = sheet.set(id, entry);
    }
    evaluate(&sheet).enclosure.expect("a box")
}

/// Litres one step of the tape, 1 mm, is worth in the depth: the largest section the space allows.
const STEP_LITRES: f64 = 0.71 * 0.33;

#[test]
fn the_demo_is_in_order_and_holds_what_was_asked_for() {
    for board in ["18.1", "17.7", "18", "18.45"] {
        let built = built(&[(FieldId::Board, board)]);
        for fact in &built.plan.facts {
            assert_eq!(fact.verdict(), Verdict::Fine, "{fact:?} with a board of {board} mm");
        }
        assert!(built.fits);
        let wanted = built.wanted.expect("a volume");
        let off = (built.plan.net() - wanted).litres();
        // The depth goes to the nearest step, so half of one is left.
        assert!(off.abs() <= STEP_LITRES / 2.0, "{off} litres off with a board of {board} mm");
    }
}

#[test]
fn a_long_port_makes_the_box_deeper_and_narrower_not_larger() {
    // By hand: a 70 mm tube for 40 Hz in 25 L is (c/ω)²·S/V − ends = 237 mm long; the shallow box that fills the
    // space's width would be some 200 mm deep, the space allows 350.
    let built = built(&[
        (FieldId::BoxKind, "vented"),
        (FieldId::WantedNet, "25"),
        (FieldId::WantedTuning, "40"),
        (FieldId::PortShape, "round"),
        (FieldId::PortDiameter, "70"),
    ]);
    let port = built.port.expect("a port");
    assert!((port.length.millimetres() - 237.0).abs() < 1.0, "{:?}", port.length);
    assert!((port.tuning.hertz() - 40.0).abs() < 0.2, "{:?}", port.tuning);
    // Half a millimetre of the width of a box 330 mm high and 350 mm deep is 0.06 L.
    assert!((built.plan.net().litres() - 25.0).abs() < 0.12, "{:?}", built.plan.net());
    assert!(built.outside.width.millimetres() < 600.0, "{:?}", built.outside.millimetres());
    let cut = built.plan.current().assembly.port.expect("a port");
    assert!(cut.to_back >= cut.height, "{:?}", cut.to_back);
}

#[test]
fn a_port_longer_than_the_space_is_deep_is_refused() {
    // (c/ω)²·S/V − ends: 478 mm for 33 Hz in 20 L, in a space of 360 mm.
    let mut sheet: Sheet = demo::design().sheet;
    for (id, text) in [
        (FieldId::BoxKind, "vented"),
        (FieldId::WantedNet, "20"),
        (FieldId::WantedTuning, "33"),
        (FieldId::PortDiameter, "70"),
    ] {
        sheet.set(id, parse_entry(id, text, &UnitPrefs::default()).expect("fits")).expect("fits");
    }
    let report = evaluate(&sheet);
    assert!(report.enclosure.is_err());
    // The desk still shows what such a box would do.
    assert!(report.sound.is_ok());
}

/// The demo's driver and space with a slot 20 mm high over the whole width.
fn with_slot(bends: &str) -> Sheet {
    let mut sheet: Sheet = demo::design().sheet;
    for (id, text) in [
        (FieldId::BoxKind, "vented"),
        (FieldId::PortShape, "slot"),
        (FieldId::SlotHeight, "20"),
        (FieldId::Strips, "none"),
        (FieldId::SlotBends, bends),
    ] {
        sheet.set(id, parse_entry(id, text, &UnitPrefs::default()).expect("fits")).expect("fits");
    }
    sheet
}

#[test]
fn a_slot_too_long_for_the_space_goes_in_with_a_bend() {
    let refused = evaluate(&with_slot("straight"));
    assert!(refused.enclosure.is_err_and(|gap| format!("{gap:?}").contains("let it bend up the back")));
    let built = evaluate(&with_slot("1")).enclosure.expect("a box");
    for fact in &built.plan.facts {
        assert_eq!(fact.verdict(), Verdict::Fine, "{fact:?}");
    }
    let cut = built.plan.current().assembly.port.expect("a port");
    assert_eq!(cut.bends, 1);
    assert!(cut.to_back >= cut.height, "{cut:?}");
    // By hand, geometry.md section 5: T + Di + t + Lv from the boards as cut, the bend as wide as it was planned to
    // half a millimetre in twenty, so to 3 % of the leg up the back.
    let size = |id, dimension| built.plan.planned.sizes.get(id, dimension).millimetres();
    use kerf_and_coil::model::geometry::{Dimension, PartId};
    let inside = built.plan.current().assembly.inside.depth.millimetres();
    let up = size(PartId::PortRiser, Dimension::Height);
    let by_hand = 36.2 + inside + 18.1 + up;
    assert!((cut.length.millimetres() - by_hand).abs() < 0.03 * up + 0.5, "{cut:?} {by_hand}");
    let port = built.port.expect("a port");
    let wanted = port.wanted.expect("a tuning");
    assert!((port.tuning.hertz() - wanted.hertz()).abs() < 0.3, "{port:?}");
    assert!(!built.plan.facts.iter().any(|fact| matches!(fact, Fact::StripsInSlot { .. })));
}

#[test]
fn a_box_deep_enough_keeps_its_slot_straight() {
    let mut sheet = with_slot("2");
    for (id, text) in
        [(FieldId::SpaceDepth, "900"), (FieldId::WantedNet, "40"), (FieldId::WantedTuning, "45")]
    {
        sheet.set(id, parse_entry(id, text, &UnitPrefs::default()).expect("fits")).expect("fits");
    }
    let bent = evaluate(&sheet).enclosure.expect("a box");
    let cut = bent.plan.current().assembly.port.expect("a port");
    assert!(cut.to_back >= cut.height, "{cut:?}");
    assert_eq!(bent.plan.facts.iter().filter(|fact| fact.verdict() != Verdict::Fine).count(), 0);
}
