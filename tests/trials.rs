//! Trials in a design: what they cost in a link, what comes back, what undo leaves alone, and the verdict on them.
#[path = "support/designs.rs"]
#[allow(dead_code)]
mod designs;
#[path = "support/noise.rs"]
#[allow(dead_code)]
mod noise;

use kerf_and_coil::design::document::{Design, Entry, parse_entry};
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::session::{Action, Session};
use kerf_and_coil::design::trials::{
    Aim, MAX_TRIALS, Trial, anchored, box_levels, choose, closed_test_box, correction, correction_text,
    covers, drifted, full_scale, in_hand, outlets, spots,
};
use kerf_and_coil::design::{demo, file, link};
use kerf_and_coil::model::measurement::{
    Outlets, Range, Takes, Weighting, Weights, predict, trial_frequencies,
};
use kerf_and_coil::present::trials as text;
use kerf_and_coil::units::UnitPrefs;
use noise::Noise;
use proptest::prelude::*;

/// A trial of takes at a spot and a seat; everything else as it usually is.
fn trial(at_s: i64, spot: &str, seat: u8, takes: &[Vec<f64>]) -> Trial {
    let mut trial = Trial {
        at_s,
        spot: spot.into(),
        place: Some([30, 85]),
        aim: Aim::Rear,
        used: String::new(),
        seat,
        state: 0,
        way: 2,
        takes: 1,
        level: Vec::new(),
        spread: Vec::new(),
        level_spread: None,
        height: None,
        left_out: false,
        note: String::new(),
    };
    trial.set_takes(&Takes::over(takes));
    trial.checked().unwrap()
}

fn made(level: impl FnMut(f64) -> f64) -> Vec<f64> {
    trial_frequencies().into_iter().map(level).collect()
}

/// Six spots at two seats, three takes each, with modes of ±12 dB and noise of half a dB: rougher than a cabin.
fn six_spots_at_two_seats() -> Vec<Trial> {
    let mut noise = Noise(3);
    let mut trials = Vec::new();
    for (i, spot) in ["left corner", "right corner", "behind seat", "middle", "under shelf", "spare wheel"]
        .iter()
        .enumerate()
    {
        for seat in 0..2 {
            let modes: Vec<f64> = (0..5).map(|_| 20.0 + 160.0 * noise.even()).collect();
            let shape = |hz: f64| modes.iter().map(|m| 12.0 * (3.0 * (hz / m).ln()).cos() / 2.0).sum::<f64>();
            let takes: Vec<Vec<f64>> =
                (0..3).map(|_| made(|hz| 85.0 + shape(hz) + 1.5 * noise.even())).collect();
            let mut one = trial(1_790_000_000 + 300 * i as i64 + 97 * i64::from(seat), spot, seat, &takes);
            one.place = Some([(100.0 * noise.even()) as u8, (100.0 * noise.even()) as u8]);
            trials.push(one);
        }
    }
    trials
}

// The issue: six spots and two seats add at most 1,500 characters to a link.
#[test]
fn six_spots_at_two_seats_fit_into_a_link() {
    let mut design = demo::design();
    let without = link::fragment(&design).len();
    design.log.trials = six_spots_at_two_seats();
    let fragment = link::fragment(&design);
    println!("twelve trials add {} characters", fragment.len() - without);
    assert!(fragment.len() - without <= 1500, "{}", fragment.len() - without);
    let opened = link::read(&fragment).unwrap();
    assert_eq!(opened.design, design);
    // Another phone comes to the same verdict.
    let range = Range::default();
    assert_eq!(
        choose(&opened.design.log.trials, range, Weights::default()),
        choose(&design.log.trials, range, Weights::default())
    );
}

/// A link of a page that knew no trials, and one of a page that knows more than this one.
#[test]
fn sections_of_other_pages_do_no_harm() {
    use base64::Engine;
    let old = link::fragment(&demo::design());
    assert!(link::read(&old).unwrap().design.log.trials.is_empty());
    let envelope = |body: &[u8]| {
        let mut bytes = vec![0_u8];
        let mut length = body.len();
        while length >= 0x80 {
            bytes.push(length as u8 | 0x80);
            length >>= 7;
        }
        bytes.push(length as u8);
        bytes.extend_from_slice(body);
        bytes.extend_from_slice(
            &crc::Crc::<u32, crc::NoTable>::new(&crc::CRC_32_ISO_HDLC).checksum(body).to_le_bytes(),
        );
        format!("d=1.{}", base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(bytes))
    };
    // No entries, sizes, ticks, readings; section 77 of three bytes.
    let newer = link::read(&envelope(&[0, 0, 0, 0, 77, 3, 1, 2, 3])).unwrap();
    assert_eq!(newer.design, Design::default());
    assert!(link::read(&envelope(&[0, 0, 0, 0, 77, 4, 1, 2, 3])).is_err());
    assert!(link::read(&envelope(&[0, 0, 0, 0, 1, 1, 5])).is_err(), "five trials in one byte");
}

#[test]
fn undo_leaves_trials_alone() {
    let set = |text| Action::Set(FieldId::Fs, parse_entry(FieldId::Fs, text, &UnitPrefs::default()).unwrap());
    let one = trial(1, "a", 0, &[made(|_| 80.0)]);
    let session = Session::new(Design::default())
        .apply(set("28"))
        .apply(Action::PutTrial(None, Box::new(one.clone())))
        .apply(Action::Undo);
    assert!(session.design.sheet.given(FieldId::Fs).is_none());
    assert_eq!(session.design.log.trials, std::slice::from_ref(&one));
    let left_out = Trial { left_out: true, ..one.clone() };
    let session = session.apply(Action::PutTrial(Some(0), Box::new(left_out.clone())));
    assert_eq!(session.design.log.trials, [left_out]);
    assert!(session.apply(Action::DropTrial(0)).apply(Action::DropTrial(3)).design.log.trials.is_empty());
    let gaps = Trial { level: Vec::new(), ..one.clone() };
    assert_eq!(session.apply(Action::PutTrial(None, Box::new(gaps))).design.log.trials.len(), 1);
    let many =
        (0..200).fold(session, |session, _| session.apply(Action::PutTrial(None, Box::new(one.clone()))));
    assert_eq!(many.design.log.trials.len(), MAX_TRIALS);
}

#[test]
fn repeats_are_takes_and_the_verdict_is_a_sentence() {
    let flat = |level: f64| made(move |_| level);
    let trials = [
        trial(1, "corner", 0, &[flat(84.0)]),
        trial(2, "middle", 0, &[flat(80.0)]),
        trial(3, "corner", 0, &[flat(84.5)]),
        trial(4, "middle", 0, &[flat(80.0)]),
    ];
    let (spots, verdict) = choose(&trials, Range::default(), Weights::default()).unwrap();
    assert_eq!(spots.len(), 2);
    assert_eq!(spots[0].trials, [0, 2]);
    assert_eq!(verdict.ranking[0].takes, 2);
    // 84.25 − 80 dB. Mean levels of trials: s = 0.354 and 0, pooled over two degrees of freedom 0.25, 0.177 for a mean of
    // two: 2·(4.303/1.96)·√2·0.177 = 1.10 dB.
    assert_eq!(text::sentence(&spots, &verdict), "corner beats middle by 4.2 ± 1.1 dB.");
    assert!(verdict.put_back);
    assert!(!text::drift(drifted(&trials, Range::default())).unwrap().0);
    let off = [&trials[..2], &[trial(5, "corner", 0, &[flat(82.0)])]].concat();
    assert!(text::drift(drifted(&off, Range::default())).unwrap().0);
    assert_eq!(drifted(&trials[..2], Range::default()), None);

    let (spots, verdict) = choose(&trials[..2], Range::default(), Weights::default()).unwrap();
    let sentence = text::sentence(&spots, &verdict);
    assert_eq!(sentence, "corner beats middle by 4.0 dB; repeat a trial to know how sure that is.");
    let close = [trial(1, "a", 0, &[flat(80.0)]), trial(2, "b", 0, &[flat(80.5)])];
    let (spots, verdict) = choose(&close, Range::default(), Weights::default()).unwrap();
    assert_eq!(text::sentence(&spots, &verdict), "No real difference between b and a: 0.5 dB.");
    let holed = [
        trial(1, "a", 0, &[made(|hz| if (36.0..44.0).contains(&hz) { 70.0 } else { 90.0 })]),
        trial(2, "b", 0, &[flat(82.0)]),
    ];
    let (spots, verdict) = choose(&holed, Range::default(), Weights::default()).unwrap();
    assert!(text::sentence(&spots, &verdict).contains("it lies 12 dB under the best spot"));
    assert!(choose(&[], Range::default(), Weights::default()).is_err());
    let out: Vec<Trial> = trials.iter().cloned().map(|trial| Trial { left_out: true, ..trial }).collect();
    assert!(choose(&out, Range::default(), Weights::default()).is_err());
}

#[test]
fn other_aims_and_states_are_other_spots() {
    let one = trial(1, "corner", 0, &[made(|_| 80.0)]);
    let turned = Trial { aim: Aim::Degrees(45), ..one.clone() };
    let open = Trial { state: 1, ..one.clone() };
    let other_seat = Trial { seat: 1, ..one.clone() };
    let found = spots(&[one, turned, open, other_seat]);
    assert_eq!(found.len(), 3);
    assert_eq!(found[0].heard.len(), 2);
    assert_eq!(text::spot(&found, 1), "corner, facing 45°");
    assert_eq!(text::spot(&found, 2), "corner, facing rear, top down");
}

/// The same box, as a design of its own and as the one open, gives back the very curve that was measured.
#[test]
fn the_same_box_gives_back_the_same_curve() {
    let report = evaluate(&demo::design().sheet);
    let own = box_levels(&report).unwrap();
    assert!(own.iter().all(|level| level.is_finite()));
    let again = box_levels(&evaluate(&demo::design().sheet)).unwrap();
    let measured = made(|hz| 80.0 + (hz / 7.0).sin());
    assert_eq!(predict(&measured, &again, &own, Outlets::Same).unwrap().levels_db, measured);
    // Another drive is no other box: the response counts per volt.
    let mut louder = demo::design().sheet;
    let entry = |id, text| parse_entry(id, text, &UnitPrefs::default()).unwrap();
    louder.set(FieldId::DrivePower, entry(FieldId::DrivePower, "100")).unwrap();
    let there = box_levels(&evaluate(&louder)).unwrap();
    assert!(there.iter().zip(&own).all(|(a, b)| (a - b).abs() < 1e-9));
}

// Small, JAES 20 (1972) 798: level ∝ x²/|(1 + Vas/V) − x² + j·x/Qts|, x = f/fs; losses of the box made small and no
// inductance. Cable and printed digits are good for some tenths of a dB.
#[test]
fn a_closed_test_box_is_the_driver_in_its_volume() {
    let mut sheet = demo::design().sheet;
    let entry = |id, text: &str| parse_entry(id, text, &UnitPrefs::default()).unwrap();
    sheet.set(FieldId::BoxKind, Entry::Choice(0)).unwrap();
    sheet.set(FieldId::Le, entry(FieldId::Le, "0")).unwrap();
    for id in [FieldId::Leakage, FieldId::Absorption] {
        sheet.set(id, entry(id, "1000")).unwrap();
    }
    let volume = |text: &str| match entry(FieldId::TestBoxVolume, text) {
        Entry::Number(number) => number,
        _ => panic!(),
    };
    let levels = |text: &str| {
        let test = closed_test_box(&sheet, volume(text));
        let report = evaluate(&test);
        assert!((report.sound.as_ref().unwrap().net.litres() - volume(text).si() * 1e3).abs() < 1e-9);
        box_levels(&report).unwrap()
    };
    let (small, large) = (levels("20"), levels("200"));
    let si = |id| sheet.si(id).unwrap();
    let by_formula = |litres: f64, hz: f64| {
        let x = hz / si(FieldId::Fs);
        let stiffness = 1.0 + si(FieldId::Vas) / (1e-3 * litres);
        -20.0 * (stiffness - x * x).hypot(x / si(FieldId::Qts)).log10()
    };
    for (k, hz) in trial_frequencies().iter().enumerate().filter(|(_, hz)| **hz < 60.0) {
        let expected = by_formula(200.0, *hz) - by_formula(20.0, *hz);
        assert!((large[k] - small[k] - expected).abs() < 0.3, "{hz} Hz: {} {expected}", large[k] - small[k]);
    }
    let mut vented = sheet.clone();
    vented.set(FieldId::BoxKind, Entry::Choice(1)).unwrap();
    assert_eq!(outlets(&closed_test_box(&vented, volume("20")), &vented), Outlets::Moved);
    assert_eq!(outlets(&closed_test_box(&sheet, volume("20")), &sheet), Outlets::Same);
}

// A meter with C weighting reads 88 dB of the tone of 50 Hz, where C takes 1.3 dB off (IEC 61672-1); the sweep of a trial
// came out at −30 dB there: 0 dB stands for 119.3 dB, and for 2 dB more where the microphone shows 2 dB too much.
#[test]
fn a_meter_anchors_the_level() {
    let mut sheet = demo::design().sheet;
    let one = trial(1, "a", 0, &[made(|_| -30.0)]);
    assert!((anchored(&sheet, &one, 88.0, Weighting::C).unwrap() - 119.3).abs() < 0.05);
    let curve = correction_text(&made(|hz| if hz < 100.0 { 2.0 } else { -0.35 }));
    sheet.set(FieldId::MicrophoneCurve, Entry::Text(curve)).unwrap();
    assert!((anchored(&sheet, &one, 88.0, Weighting::C).unwrap() - 121.3).abs() < 0.05);
    let added = correction(&sheet).unwrap();
    assert!((added[0] - 2.0).abs() < 1e-9 && (added[39] + 0.35).abs() <= 0.05 + 1e-9);
    // Sweeps need the anchor, what a meter read is a sound level, both together are neither.
    let tones = Trial { way: 0, ..one.clone() };
    assert_eq!(full_scale(&sheet, std::slice::from_ref(&one)), None);
    let entry = parse_entry(FieldId::FullScale, "121.3", &UnitPrefs::default()).unwrap();
    sheet.set(FieldId::FullScale, entry).unwrap();
    assert_eq!(full_scale(&sheet, std::slice::from_ref(&one)), Some(121.3));
    assert_eq!(full_scale(&sheet, std::slice::from_ref(&tones)), Some(0.0));
    assert_eq!(full_scale(&sheet, &[one.clone(), tones.clone()]), None);
    assert!(covers(&sheet, std::slice::from_ref(&one)) && !covers(&sheet, &[one.clone(), tones.clone()]));
    sheet.set(FieldId::MicrophoneFor, Entry::Choice(3)).unwrap();
    assert!(covers(&sheet, &[one, tones]));
    sheet.set(FieldId::MicrophoneCurve, Entry::Text("2 3 fish".into())).unwrap();
    assert_eq!(correction(&sheet), None);
}

// The whole curve of a design and six spots still go into a link that messengers take.
#[test]
fn a_microphone_curve_costs_little() {
    let mut design = demo::design();
    let without = link::fragment(&design).len();
    let curve = correction_text(&made(|hz| -0.1 * (2000.0 / hz).sqrt() + (hz / 9.0).sin()));
    design.sheet.set(FieldId::MicrophoneCurve, Entry::Text(curve)).unwrap();
    let cost = link::fragment(&design).len() - without;
    println!("a microphone curve adds {cost} characters");
    assert!(cost <= 200, "{cost}");
    assert_eq!(link::read(&link::fragment(&design)).unwrap().design, design);
}

// Twice the voltage in the trials leaves 6.02 dB less in hand; a test box that is 3 dB louder for a volt, 3 dB less. The
// voltage at the limits is what the ceiling's own tests hold.
#[test]
fn what_is_in_hand_follows_from_the_voltage() {
    let report = evaluate(&demo::design().sheet);
    let own = box_levels(&report).unwrap();
    let at = |volts, test: &[f64]| in_hand(&report, test, volts, Range::default()).unwrap();
    let one = at(1.0, &own);
    assert!((one.least_db - at(2.0, &own).least_db - 6.0206).abs() < 1e-4);
    let louder: Vec<f64> = own.iter().map(|level| level + 3.0).collect();
    assert!((one.mean_db - at(1.0, &louder).mean_db - 3.0).abs() < 1e-9);
    let ceiling = &report.loud.as_ref().unwrap().ceiling.as_ref().unwrap().curve;
    let least = ceiling.voltage_v.iter().copied().fold(f64::INFINITY, f64::min);
    assert!(one.least_db >= 20.0 * least.log10() - 1e-9 && one.least_db <= one.mean_db);
}

#[test]
fn weights_are_told_in_the_verdict() {
    let holed = made(|hz| if (36.0..44.0).contains(&hz) { 64.0 } else { 84.0 });
    let trials = [trial(1, "corner", 0, &[holed]), trial(2, "middle", 0, &[made(|_| 78.0)])];
    let weights = Weights { seats: 0.0, hole: 2.0 };
    let (spots, verdict) = choose(&trials, Range::default(), weights).unwrap();
    let sentence = text::sentence(&spots, &verdict);
    assert!(sentence.starts_with("By your weights middle comes before corner, though it is"), "{sentence}");
    let (spots, verdict) = choose(&trials, Range::default(), Weights::default()).unwrap();
    assert!(!text::sentence(&spots, &verdict).starts_with("By your weights"));
}

proptest! {
    #[test]
    fn any_trial_comes_back_from_file_and_link(trials in prop::collection::vec(designs::any_trial(), 0..6)) {
        let mut design = Design::default();
        design.log.trials = trials;
        prop_assert_eq!(&link::read(&link::fragment(&design)).unwrap().design, &design);
        prop_assert_eq!(&file::read(&file::write(&design)).unwrap().design, &design);
    }

    /// Anything that stands where trials do in a file gives a design.
    #[test]
    fn any_json_for_a_trial_gives_a_design(key in "spot|aim|seat|state|by|takes|level|spread|level spread|height|place|at|counts|note|box", text in ".{0,30}", number in any::<i64>(), kind in 0..5_u8) {
        let value = match kind {
            0 => serde_json::json!(text),
            1 => serde_json::json!(number),
            2 => serde_json::json!([text, number]),
            3 => serde_json::json!([number, number]),
            _ => serde_json::Value::Null,
        };
        let json = serde_json::json!({ "format": "kerf-and-coil", "version": 1, "trials": [{ "level": "70 71 72", (key): value }, text] });
        let opened = file::from_value(&json).unwrap();
        prop_assert!(opened.design.log.trials.len() <= 1);
        let _ = choose(&opened.design.log.trials, Range::default(), Weights::default());
    }

    /// What is kept is within half a step of what was heard.
    #[test]
    fn packing_rounds_by_half_a_step(levels in prop::collection::vec(-100.0..200.0_f64, 40), spread in 0.0..20.0_f64) {
        let heard = Takes { count: 3, mean_db: levels.clone(), spread_db: vec![spread; 40], level_spread_db: Some(spread) };
        let mut kept = trial(1, "a", 0, &[levels]);
        kept.set_takes(&heard);
        let back = kept.checked().unwrap().takes();
        for (a, b) in back.mean_db.iter().zip(&heard.mean_db) {
            prop_assert!((a - b).abs() <= 0.25 + 1e-9);
        }
        prop_assert!(back.spread_db.iter().all(|s| (s - spread).abs() <= 0.05 + 1e-9));
        prop_assert!((back.level_spread_db.unwrap() - spread).abs() <= 0.005 + 1e-9);
        prop_assert_eq!(back.count, 3);
    }
}
