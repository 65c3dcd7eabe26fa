//! Links and files: what goes in comes out, and no bytes whatever break the decoders.
use kerf_and_coil::design::document::{Design, Entry, Reading, Sheet};
use kerf_and_coil::design::limits::{FieldId, Kind};
use kerf_and_coil::design::link::{self, LinkError};
use kerf_and_coil::design::{demo, file, stored};
use kerf_and_coil::units::{Decimal, Entered, Quantity, Unit};
use proptest::prelude::*;

fn units_of(quantity: Quantity) -> Vec<Unit> {
    Unit::ALL.iter().copied().filter(|unit| unit.quantity() == quantity).collect()
}

/// Any entry that fits the field, in any unit and with any count of places.
fn entry(id: FieldId) -> BoxedStrategy<Entry> {
    match id.row().kind {
        Kind::Number { quantity, min, max, .. } => {
            (prop::sample::select(units_of(quantity)), 0.0..1.0_f64, 0..=9_u8)
                .prop_filter_map("out of limits once rounded", move |(unit, share, places)| {
                    let number = Decimal::from_f64(unit.from_si(min + share * (max - min)), places)?;
                    let entered = Entered { number, unit };
                    (min..=max).contains(&entered.si()).then_some(Entry::Number(entered))
                })
                .boxed()
        }
        Kind::Choice { rows, .. } => (0..rows.len() as u8).prop_map(Entry::Choice).boxed(),
        Kind::Text { .. } => "[a-zà-ü0-9Ω漢\\-(]{1,20}".prop_map(Entry::Text).boxed(),
    }
}

fn any_entry() -> BoxedStrategy<(FieldId, Entry)> {
    prop::sample::select(FieldId::ALL)
        .prop_flat_map(|id| entry(id).prop_map(move |entry| (id, entry)))
        .boxed()
}

prop_compose! {
    fn design()(
        entries in prop::collection::vec(any_entry(), 0..40),
        built in prop::collection::vec(("[a-z.]{1,20}", 1..900_000_i64), 0..5),
        ticks in prop::collection::vec("[a-z0-9 .]{1,30}", 0..6),
        readings in prop::collection::vec((any::<i32>(), "[a-z.]{1,20}", prop::option::of(1..5_000_i64), "[a-zé ,]{0,30}"), 0..5),
    ) -> Design {
        let mut sheet = Sheet::default();
        for (id, entry) in entries {
            sheet.set(id, entry).expect("the strategy keeps to the limits");
        }
        for (key, hundredths) in built {
            sheet.set_built(&key, Entered { number: Decimal::new(hundredths, 2).unwrap(), unit: Unit::Millimetre });
        }
        let mut design = Design { sheet, ..Design::default() };
        design.log.ticks.extend(ticks);
        design.log.readings.extend(readings.into_iter().map(|(at, subject, value, note)| Reading {
            at_s: at.into(),
            subject,
            value: value.map(|v| Entered { number: Decimal::new(v, 2).unwrap(), unit: Unit::Ohm }),
            note: note.trim().to_owned(),
        }));
        design
    }
}

proptest! {
    #[test]
    fn a_link_gives_back_the_same_design(design in design()) {
        let opened = link::read(&link::fragment(&design)).unwrap();
        prop_assert_eq!(opened.design, design);
        prop_assert!(opened.repairs.is_empty());
    }

    #[test]
    fn a_file_gives_back_the_same_design(design in design()) {
        let opened = file::read(&file::write(&design)).unwrap();
        prop_assert_eq!(opened.design, design);
        prop_assert!(opened.repairs.is_empty());
    }

    #[test]
    fn any_text_gives_a_design_or_a_message(text in ".{0,200}", data in "[A-Za-z0-9_-]{0,400}") {
        let _ = link::read(&text);
        let _ = link::read(&format!("#d=1.{data}"));
        let _ = file::read(&text);
        let _ = stored::read(&text);
    }

    #[test]
    fn any_bytes_inside_a_sound_envelope_give_a_design_or_a_message(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        use base64::Engine;
        let mut envelope = vec![0_u8];
        let mut length = bytes.len();
        while length >= 0x80 {
            envelope.push(length as u8 | 0x80);
            length >>= 7;
        }
        envelope.push(length as u8);
        envelope.extend_from_slice(&bytes);
        envelope.extend_from_slice(&crc::Crc::<u32, crc::NoTable>::new(&crc::CRC_32_ISO_HDLC).checksum(&bytes).to_le_bytes());
        let data = base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(envelope);
        let _ = link::read(&format!("d=1.{data}"));
    }

    #[test]
    fn a_cut_link_is_told_from_a_damaged_one(share in 0.0..1.0_f64, at in 0.0..1.0_f64) {
        let whole = link::fragment(&demo::design());
        let keep = 4 + ((whole.len() - 4) as f64 * share) as usize;
        prop_assert_eq!(link::read(&whole[..keep]).unwrap_err(), LinkError::Truncated);

        let place = 8 + ((whole.len() - 9) as f64 * at) as usize;
        let mut damaged: Vec<u8> = whole.into_bytes();
        damaged[place] = if damaged[place] == b'A' { b'B' } else { b'A' };
        let damaged = String::from_utf8(damaged).unwrap();
        if let Ok(opened) = link::read(&damaged) {
            // The unused bits of the last character carry nothing.
            prop_assert_eq!(opened.design, demo::design());
        }
    }

    #[test]
    fn any_json_value_in_any_field_gives_a_design(field in prop::sample::select(FieldId::ALL), text in ".{0,40}") {
        let row = field.row();
        let json = serde_json::json!({ "format": "kerf-and-coil", "version": 1, (row.record.key()): { (row.key): text } });
        let opened = file::from_value(&json).unwrap();
        prop_assert!(opened.repairs.len() <= 1);
    }
}

#[test]
fn a_link_works_with_its_whole_address_and_among_other_parameters() {
    let fragment = link::fragment(&demo::design());
    for text in [
        format!("https://workshop.example/box/?x=1#{fragment}"),
        format!("#{fragment}"),
        format!(" {fragment}\n"),
        format!("#place=car&{fragment}"),
    ] {
        assert_eq!(link::read(&text).unwrap().design, demo::design());
    }
    assert_eq!(link::read("https://workshop.example/"), Err(LinkError::NoDesign));
    assert_eq!(link::read("#d=9.AAAA"), Err(LinkError::UnknownCodec));
}
