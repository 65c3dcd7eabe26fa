//! Random designs for property tests: any entry within its limits, any of the sizes a cut can come out at.
use kerf_and_coil::design::built;
use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::{Design, Entry, Reading, Sheet, parse_entry};
use kerf_and_coil::design::limits::{FieldId, Kind};
use kerf_and_coil::design::trials::{Aim, GAP, Trial};
use kerf_and_coil::model::geometry::{Dimension, InsideEdge, PartId};
use kerf_and_coil::units::{Decimal, Entered, Quantity, Unit, UnitPrefs};
use proptest::prelude::*;

fn units_of(quantity: Quantity) -> Vec<Unit> {
    Unit::ALL.iter().copied().filter(|unit| unit.quantity() == quantity).collect()
}

/// Any entry that fits the field, in any unit; values spread by size as well as evenly, and the limits themselves.
fn entry(id: FieldId) -> BoxedStrategy<Entry> {
    match id.row().kind {
        Kind::Number { quantity, min, max, .. } => {
            let even = (0.0..=1.0_f64).prop_map(move |share| min + share * (max - min));
            let by_size = (0.0..=1.0_f64).prop_map(move |share| {
                let low = min.max(1e-3 * max);
                low * (max / low).powf(share)
            });
            let value = prop_oneof![4 => by_size, 2 => even, 1 => Just(min), 1 => Just(max)];
            (prop::sample::select(units_of(quantity)), value, 0..=9_u8)
                .prop_filter_map("out of limits once rounded", move |(unit, si, places)| {
                    let number = Decimal::from_f64(unit.from_si(si), places)?;
                    let entered = Entered { number, unit };
                    (min..=max).contains(&entered.si()).then_some(Entry::Number(entered))
                })
                .boxed()
        }
        Kind::Choice { rows, .. } => (0..rows.len() as u8).prop_map(Entry::Choice).boxed(),
        Kind::Text { .. } => {
            prop_oneof!["[a-zà-ü0-9Ω漢\\-(]{1,20}", "[12][AB][-|][12][AB]"].prop_map(Entry::Text).boxed()
        }
    }
}

fn any_entry() -> BoxedStrategy<(FieldId, Entry)> {
    prop::sample::select(FieldId::ALL)
        .prop_flat_map(|id| entry(id).prop_map(move |entry| (id, entry)))
        .boxed()
}

fn any_piece() -> BoxedStrategy<PartId> {
    let mut pieces =
        vec![PartId::Back, PartId::Left, PartId::Right, PartId::Top, PartId::Bottom, PartId::PortRoof];
    pieces.extend([
        PartId::Front(0),
        PartId::Front(1),
        PartId::PortWall(0),
        PartId::PortTube(0),
        PartId::PortTube(1),
    ]);
    pieces.extend([PartId::Brace(0, 0), PartId::Brace(0, 1)]);
    pieces.extend(InsideEdge::all().into_iter().map(PartId::Strip));
    prop::sample::select(pieces).boxed()
}

/// The key of a size of a piece, or now and then of none.
fn any_built_key() -> BoxedStrategy<String> {
    let dimensions = vec![Dimension::Width, Dimension::Height, Dimension::Depth, Dimension::Face];
    prop_oneof![
        8 => (any_piece(), prop::sample::select(dimensions)).prop_map(|(piece, size)| built::key(piece, size)),
        1 => "[a-z.]{1,20}",
    ]
    .boxed()
}

fn apply(sheet: &mut Sheet, entries: Vec<(FieldId, Entry)>) {
    for (id, entry) in entries {
        sheet.set(id, entry).expect("the strategy keeps to the limits");
    }
}

fn build(sheet: &mut Sheet, built: Vec<(String, i64)>) {
    for (key, hundredths) in built {
        let number = Decimal::new(hundredths, 2).expect("few digits");
        sheet.set_built(&key, Entered { number, unit: Unit::Millimetre });
    }
}

prop_compose! {
    /// A trial with anything in it.
    pub fn any_trial()(
        at_s in any::<i32>(),
        (spot, used, note) in ("[a-zà-ü0-9Ω漢 -]{0,20}", "[a-z0-9 ]{0,12}", "[a-zé ,]{0,30}"),
        place in prop::option::of([0..=100_u8, 0..=100_u8]),
        aim in prop_oneof![prop::sample::select(Aim::NAMED.map(|(aim, _)| aim).to_vec()), (0..360_u16).prop_map(Aim::Degrees)],
        (seat, state, way, takes, left_out) in (0..5_u8, 0..16_u8, 0..3_u8, 1..9_u8, any::<bool>()),
        level in prop::collection::vec(prop_oneof![9 => -400..=600_i16, 1 => Just(GAP)], 40),
        spread in prop::collection::vec(any::<u8>(), 40),
        (level_spread, height) in (prop::option::of(0..2000_u16), prop::option::of(0..=100_u8)),
    ) -> Trial {
        let trial = Trial { at_s: at_s.into(), spot, place, aim, used, seat, state, way, takes, level, spread, level_spread, height, left_out, note };
        trial.checked().unwrap_or_else(|| unreachable!("forty gaps in a row"))
    }
}

prop_compose! {
    /// Nothing but chance: most are far from complete.
    pub fn random_design()(
        entries in prop::collection::vec(any_entry(), 0..90),
        built in prop::collection::vec((any_built_key(), 1..90_000_i64), 0..5),
        ticks in prop::collection::vec("[a-z0-9 .]{1,30}", 0..6),
        readings in prop::collection::vec((any::<i32>(), "[a-z.]{1,20}", prop::option::of(1..5_000_i64), "[a-zé ,]{0,30}"), 0..5),
        trials in prop::collection::vec(any_trial(), 0..4),
    ) -> Design {
        let mut design = Design::default();
        design.log.trials = trials;
        apply(&mut design.sheet, entries);
        build(&mut design.sheet, built);
        design.log.ticks.extend(ticks);
        design.log.readings.extend(readings.into_iter().map(|(at, subject, value, note)| Reading {
            at_s: at.into(),
            subject,
            value: value.map(|v| Entered { number: Decimal::new(v, 2).expect("few digits"), unit: Unit::Ohm }),
            note: note.trim().to_owned(),
        }));
        design
    }
}

prop_compose! {
    /// The demo with some entries taken out and others put in: most can be worked out in full.
    #[allow(dead_code)] // each test file compiles this module for itself
    pub fn altered_demo()(
        emptied in prop::collection::vec(prop::sample::select(FieldId::ALL), 0..3),
        entries in prop::collection::vec(any_entry(), 0..6),
        vented in any::<bool>(),
        built in prop::collection::vec((any_built_key(), 10_000..72_000_i64), 0..3),
    ) -> Design {
        let mut design = demo::design();
        if vented {
            // A narrow tube and a deep space, in which the demo's driver can be tuned as low as it wants.
            for (id, text) in [(FieldId::BoxKind, "vented"), (FieldId::PortDiameter, "50"), (FieldId::SpaceDepth, "600")] {
                let entry = parse_entry(id, text, &UnitPrefs::default()).expect("an entry of the field");
                design.sheet.set(id, entry).expect("within limits");
            }
        }
        emptied.into_iter().for_each(|id| design.sheet.clear(id));
        apply(&mut design.sheet, entries);
        build(&mut design.sheet, built);
        design
    }
}
