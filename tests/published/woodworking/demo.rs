//! The demo's box, through the whole evaluation: what the rounding to the tape may and may not do to it.
use kerf_and_coil::design::document::parse_entry;
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::{BoxReport, Part};
use kerf_and_coil::design::{demo, document::Sheet};
use kerf_and_coil::model::geometry::Verdict;
use kerf_and_coil::units::UnitPrefs;
use std::rc::Rc;

fn built(changes: &[(FieldId, &str)]) -> Rc<BoxReport> {
    demo_with(changes).expect("a box")
}

fn demo_with(changes: &[(FieldId, &str)]) -> Part<Rc<BoxReport>> {
    let mut sheet: Sheet = demo::design().sheet;
    for &(id, text) in changes {
        let entry = parse_entry(id, text, &UnitPrefs::default()).expect("a number");
        let _ = sheet.set(id, entry);
    }
    evaluate(&sheet).enclosure
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
fn a_port_as_deep_as_the_box_still_gets_its_tuning() {
    // A port too long for any box in the space is refused, not bent.
    let slot = demo_with(&[
        (FieldId::BoxKind, "vented"),
        (FieldId::WantedNet, "32"),
        (FieldId::WantedTuning, "33"),
        (FieldId::PortShape, "slot"),
        (FieldId::SlotHeight, "15"),
    ]);
    assert!(slot.is_err());
    // In 20 litres a 70 mm tube for 33 Hz is longer than the box would be deep: the box has to grow with it.
    let built = built(&[
        (FieldId::BoxKind, "vented"),
        (FieldId::WantedNet, "20"),
        (FieldId::WantedTuning, "33"),
        (FieldId::PortShape, "round"),
        (FieldId::PortDiameter, "70"),
    ]);
    assert!(built.plan.net().litres() > 20.0);
    let port = built.port.expect("a port");
    let off = port.tuning.hertz() - 33.0;
    // A millimetre more or less of tube and box: 33 Hz × (0.24 l / 40 l) / 2 = 0.1 Hz.
    assert!(off.abs() < 0.2, "tuned {off} Hz off");
}

#[test]
fn a_vented_box_of_fixed_size_gets_its_tuning() {
    let built = built(&[
        (FieldId::BoxKind, "vented"),
        (FieldId::WantedTuning, "33"),
        (FieldId::BoxWidth, "700"),
        (FieldId::BoxHeight, "330"),
        (FieldId::BoxDepth, "350"),
        (FieldId::PortShape, "round"),
        (FieldId::PortDiameter, "70"),
    ]);
    assert_eq!(built.spec.outside.depth, super::mm(350.0));
    let port = built.port.expect("a port");
    // Half a millimetre of some 200 mm, half of that in the tuning: 0.04 Hz.
    assert!((port.tuning.hertz() - 33.0).abs() < 0.05, "{:?}", port.tuning);
}
