//! The amplifier's models by hand, and the bounds they must keep.
use kerf_and_coil::design::quick::{Answer, Question, Values};
use kerf_and_coil::model::electrical::amplifier::{Amplifier, Output, PowerBasis, Rails, Rating};
use kerf_and_coil::model::electrical::meter::Meter;
use kerf_and_coil::model::electrical::quick::{
    coil_resistance_band, gain_voltage, power_from_voltage, sagged_gain,
};
use kerf_and_coil::present::meter::Mark;
use kerf_and_coil::present::quick;
use kerf_and_coil::units::{CableUnit, Power, Resistance, Voltage};
use proptest::prelude::*;

use crate::assert_near;

fn rating(ohm: f64, watt: f64, volt: f64) -> Rating {
    Rating {
        load: Resistance::from_ohms(ohm),
        power: Power::from_watts(watt),
        supply: Voltage::from_volts(volt),
    }
}

/// Invented: 250 W into 4 Ω, 450 W into 2 Ω, 700 W into 1 Ω at 14.4 V, stable to 1 Ω.
fn demo() -> Amplifier {
    let ratings = vec![rating(4.0, 250.0, 14.4), rating(2.0, 450.0, 14.4), rating(1.0, 700.0, 14.4)];
    Amplifier::new(ratings, Resistance::from_ohms(1.0), 1, 0.75).unwrap()
}

// By hand. At 3 Ω: V²/Z of 4 Ω gives 1000/3 = 333.3 W and V²/Z of 2 Ω gives 900/3 = 300 W; I²Z of 4 Ω gives
// 62.5·3 = 187.5 W and of 2 Ω 225·3 = 675 W. Voltage between 30 and 31.6 V leaves 300 to 333.3 W.
#[test]
fn power_at_loads_rated_and_not() {
    let at = |ohm| demo().power_at(Resistance::from_ohms(ohm), Voltage::from_volts(14.4)).unwrap();
    let (low, high) = (|ohm| at(ohm).low.watts(), |ohm| at(ohm).high.watts());
    assert_eq!((low(2.0), high(2.0), at(2.0).basis), (450.0, 450.0, PowerBasis::Rated));
    assert_near(low(3.0), 300.0, 1e-9);
    assert_near(high(3.0), 1000.0 / 3.0, 1e-9);
    assert_eq!(at(3.0).basis, PowerBasis::BetweenRated);
    assert!(at(3.0).expected().watts() > 300.0 && at(3.0).expected().watts() < 1000.0 / 3.0);
    // Outside: 8 Ω at 4 Ω's voltage 125 W; on the line from 450 W to 250 W another 5/9, 138.9 W, and at 16 Ω 77.2 W. 0.5 Ω
    // at 1 Ω's current 350 W; on the line from 450 W to 700 W another 14/9, 1089 W.
    assert_near(low(8.0), 125.0, 1e-9);
    assert_near(high(8.0), 250.0 * 5.0 / 9.0, 1e-9);
    assert_near(high(16.0), 250.0 * 25.0 / 81.0, 1e-9);
    assert_near(low(0.5), 350.0, 1e-9);
    assert_near(high(0.5), 700.0 * 14.0 / 9.0, 1e-9);
    assert_eq!(at(8.0).basis, PowerBasis::OutsideRated);
    assert!(at(1.0).stable && !at(0.95).stable);
}

// One rating, 500 W into 2 Ω: 8 Ω at that voltage are 125 W and never more than the 500 W; 1 Ω at that current 250 W, at that
// voltage 1000 W. The range is in order and the line between two ratings never leaves the bounds, whatever they are.
#[test]
fn a_single_rating_bounds_both_sides() {
    let amplifier =
        Amplifier::new(vec![rating(2.0, 500.0, 14.4)], Resistance::from_ohms(1.0), 1, 0.75).unwrap();
    let at = |ohm| amplifier.power_at(Resistance::from_ohms(ohm), Voltage::from_volts(14.4)).unwrap();
    for (ohm, low, high) in [(8.0, 125.0, 500.0), (1.0, 250.0, 1000.0)] {
        assert_near(at(ohm).low.watts(), low, 1e-9);
        assert_near(at(ohm).high.watts(), high, 1e-9);
    }
    // Ratings that contradict the model, less power into the lower load: still a range in order.
    let odd = vec![rating(2.0, 100.0, 14.4), rating(4.0, 300.0, 14.4)];
    let odd = Amplifier::new(odd, Resistance::from_ohms(2.0), 1, 0.75).unwrap();
    for ohm in [0.5, 1.0, 8.0, 32.0] {
        let found = odd.power_at(Resistance::from_ohms(ohm), Voltage::from_volts(14.4)).unwrap();
        assert!(found.low <= found.high, "{ohm} Ω: {found:?}");
    }
}

// (12/14.4)² = 0.6944.
#[test]
fn power_follows_the_square_of_the_supply() {
    let at_12 = demo().power_at(Resistance::from_ohms(4.0), Voltage::from_volts(12.0)).unwrap();
    assert_near(at_12.low.watts(), 250.0 * 0.694_444, 1e-3);
    assert!(at_12.supply_scaled);
    // A rating at the very supply is taken before one that must be scaled.
    let both = vec![rating(4.0, 250.0, 14.4), rating(4.0, 190.0, 12.0)];
    let amplifier = Amplifier::new(both, Resistance::from_ohms(2.0), 1, 0.75).unwrap();
    let exact = amplifier.power_at(Resistance::from_ohms(4.0), Voltage::from_volts(12.0)).unwrap();
    assert_eq!((exact.low.watts(), exact.supply_scaled), (190.0, false));
}

// 450 W / (0.75 · 14.4 V) = 41.67 A; an eighth of it is 5.21 A. √(450 · 2) = 30 V.
#[test]
fn supply_current_and_gain_voltage() {
    let draw = demo().supply_draw(Power::from_watts(450.0), Voltage::from_volts(14.4), 0.125).unwrap();
    assert_near(draw.worst_case.amperes(), 41.666_67, 1e-4);
    assert_near(draw.average.amperes(), 5.208_33, 1e-4);
    let volts = gain_voltage(Power::from_watts(450.0), Resistance::from_ohms(2.0)).unwrap();
    assert_near(volts.volts(), 30.0, 1e-12);
    assert_near(power_from_voltage(volts, Resistance::from_ohms(2.0)).unwrap().watts(), 450.0, 1e-9);
    let (low, high) = coil_resistance_band(Resistance::from_ohms(4.0)).unwrap();
    assert_near(low.ohms(), 2.8, 1e-12);
    assert_near(high.ohms(), 3.8, 1e-12);
}

/// A pocket meter: 1 % and three counts of 0.1 Ω.
const METER: Meter = Meter {
    accuracy_percent: 1.0,
    counts: 3.0,
    count: Resistance::from_ohms(0.1),
    leads: Resistance::from_ohms(0.0),
};

fn values(numbers: Vec<Option<f64>>, meter: Meter) -> Values {
    Values { numbers, choice: 0, cable: CableUnit::Gauge, meter }
}

// A coil of 4 Ω should read 2.8 Ω to 3.8 Ω. By hand, with a count more for the leads: the pocket meter may be off by 0.4 Ω
// and a hundredth, so 4.2 Ω − 0.442 Ω reaches 3.8 Ω and 4.3 Ω − 0.443 Ω does not; 2.4 Ω + 0.424 Ω reaches 2.8 Ω, 2.3 Ω + 0.423 Ω
// does not. One of 0.5 % and one count of 0.01 Ω is off by 0.0395 Ω at 3.9 Ω. At 1 Ω (0.7 Ω to 0.95 Ω) the pocket meter still
// tells a short, 0 Ω + 0.4 Ω, from a coil.
#[test]
fn a_quick_coil_reading_is_judged_as_far_as_the_meter_goes() {
    let good = |nominal, read, meter| {
        let answer = Question::Coil.answer(&values(vec![Some(nominal), read], meter)).unwrap();
        (answer.is_good(), answer)
    };
    for (read, expected) in [(3.4, true), (3.9, true), (4.2, true), (4.3, false), (2.4, true), (2.3, false)] {
        assert_eq!(good(4.0, Some(read), METER).0, Some(expected), "{read} Ω");
    }
    let bench = Meter { accuracy_percent: 0.5, counts: 1.0, count: Resistance::from_ohms(0.01), ..METER };
    assert_eq!(good(4.0, Some(3.8), bench).0, Some(true));
    assert_eq!(good(4.0, Some(3.9), bench).0, Some(false));
    assert_eq!((good(1.0, Some(0.5), METER).0, good(1.0, Some(0.0), METER).0), (Some(true), Some(false)));
    let Answer::Coil { read: Some((_, off)), .. } = good(4.0, Some(3.9), bench).1 else { panic!("a coil") };
    assert_near(off.ohms(), 0.0395, 1e-12);
    assert_eq!(good(4.0, None, METER).0, None, "a band is no verdict");
    for read in [-1.0, 2e6, f64::NAN] {
        assert!(matches!(good(4.0, Some(read), METER).1, Answer::Refused(_)), "{read}");
    }
}

// What is marked as good: a feed that exists, a drop of at most 3 % (ABYC E-11, for what must work); a voltage to set is neither.
#[test]
fn a_quick_answer_is_marked_by_what_it_says() {
    let mark = |question: Question, numbers: &[f64]| {
        let numbers = numbers.iter().copied().map(Some).collect();
        quick::mark(&question.answer(&values(numbers, METER)).unwrap())
    };
    assert_eq!(mark(Question::Cable, &[60.0, 4.6, 13.8]), Some(Mark::Good));
    assert_eq!(mark(Question::Cable, &[500.0, 30.0, 13.8]), Some(Mark::Stop), "no size of the list");
    // The list begins with 18 AWG, 20.9 mΩ a metre at 20 °C: 1 A over 1 m and back are 0.05 V; 20 A over 5 m are 4.5 V.
    assert_eq!(mark(Question::Drop, &[1.0, 1.0, 13.8]), Some(Mark::Good));
    assert_eq!(mark(Question::Drop, &[20.0, 5.0, 13.8]), Some(Mark::Care));
    assert_eq!(mark(Question::Gain, &[450.0, 2.0]), None);
    assert_eq!(mark(Question::Coil, &[4.0]), None);
    assert_eq!(mark(Question::Coil, &[4.0, 9.0]), Some(Mark::Care));
    assert_eq!(mark(Question::Coil, &[-4.0]), Some(Mark::Care));
}

// By hand: 450 W into 2 Ω at 14.4 V without music are 30 V. At 12 V under load the swing is 30·12/14.4 = 25 V, the power
// 25²/2 = 312.5 W. No sag changes nothing; a supply that rises under load is none.
#[test]
fn the_quick_gain_allows_for_the_sag() {
    let (power, load) = (Power::from_watts(450.0), Resistance::from_ohms(2.0));
    let at = |rest, loaded| sagged_gain(power, load, Voltage::from_volts(rest), Voltage::from_volts(loaded));
    let (left, volts) = at(14.4, 12.0).unwrap();
    assert_near(volts.volts(), 25.0, 1e-12);
    assert_near(left.watts(), 312.5, 1e-9);
    assert_near(at(13.0, 13.0).unwrap().1.volts(), 30.0, 1e-12);
    assert!(at(12.0, 14.4).is_err() && at(0.0, 0.0).is_err() && at(f64::NAN, 12.0).is_err());
    assert!(at(14.4, f64::NAN).is_err());
    let ask = |rest, loaded| {
        let numbers = vec![Some(450.0), Some(2.0), rest, loaded];
        Question::Gain.answer(&values(numbers, METER)).unwrap()
    };
    assert_eq!(ask(None, None), Answer::Gain(Voltage::from_volts(30.0)));
    let Answer::SaggedGain { power, volts, unsagged } = ask(Some(14.4), Some(12.0)) else { panic!("sag") };
    assert_near(power.watts(), 312.5, 1e-9);
    assert_near(volts.volts(), 25.0, 1e-12);
    assert_near(unsagged.volts(), 30.0, 1e-12);
    for half in [ask(Some(14.4), None), ask(None, Some(12.0)), ask(Some(12.0), Some(14.4))] {
        assert!(matches!(half, Answer::Refused(_)), "{half:?}");
    }
}

// Two in series: 450 W into 2 Ω each make 900 W into 4 Ω; the least load doubles to 2 Ω. With the maker's bridged least
// of 4 Ω, 2 Ω is below it.
#[test]
fn joined_outputs_each_see_half_the_load() {
    let bridged = demo().joined(Output::Bridged, None).unwrap();
    let at = |ohm| bridged.power_at(Resistance::from_ohms(ohm), Voltage::from_volts(14.4)).unwrap();
    assert_eq!((at(4.0).expected().watts(), at(4.0).basis), (900.0, PowerBasis::Rated));
    assert!(at(2.0).stable && !at(1.0).stable);
    assert_near(bridged.least_load().ohms(), 2.0, 1e-12);
    let limited = demo().joined(Output::Strapped, Some(Resistance::from_ohms(4.0))).unwrap();
    assert!(
        !limited.is_stable_at(Resistance::from_ohms(2.0)) && limited.is_stable_at(Resistance::from_ohms(4.0))
    );
}

// Rated 250 W at 14.4 V and 210 W at 12.0 V: exponent ln(250/210)/ln(1.2) = 0.9563; at 13.2 V 210·1.1^0.9563 = 230.04 W.
// Below 12 V it goes on with that exponent: 11.4 V gives 210·0.95^0.9563 = 199.95 W. Regulated and rated once: no change.
#[test]
fn power_between_two_rated_supplies() {
    let both = vec![rating(4.0, 250.0, 14.4), rating(4.0, 210.0, 12.0)];
    let amplifier = Amplifier::new(both, Resistance::from_ohms(2.0), 1, 0.75).unwrap();
    let at = |volts| {
        amplifier.power_at(Resistance::from_ohms(4.0), Voltage::from_volts(volts)).unwrap().expected().watts()
    };
    assert_near(at(13.2), 230.04, 0.01);
    assert_near(at(11.4), 199.95, 0.01);
    assert_near(at(14.4), 250.0, 1e-9);
    let regulated = demo().with_rails(Rails::Regulated);
    let found = regulated.power_at(Resistance::from_ohms(4.0), Voltage::from_volts(11.0)).unwrap();
    assert_eq!((found.expected().watts(), found.supply_scaled), (250.0, false));
}

#[test]
fn an_amplifier_needs_sound_ratings() {
    let ohm = Resistance::from_ohms(1.0);
    assert!(Amplifier::new(vec![], ohm, 1, 0.75).is_err());
    assert!(Amplifier::new(vec![rating(0.0, 100.0, 14.4)], ohm, 1, 0.75).is_err());
    assert!(Amplifier::new(vec![rating(2.0, f64::NAN, 14.4)], ohm, 1, 0.75).is_err());
    assert!(Amplifier::new(vec![rating(2.0, 100.0, 14.4)], ohm, 1, 1.5).is_err());
}

proptest! {
    #[test]
    fn ranges_are_ordered_and_finite(
        ratings in prop::collection::vec((0.25f64..16.0, 1.0f64..5000.0, 9.0f64..16.0), 1..6),
        ohm in 0.05f64..64.0, volts in 8.0f64..16.0,
    ) {
        let ratings = ratings.into_iter().map(|(z, p, v)| rating(z, p, v)).collect();
        let amplifier = Amplifier::new(ratings, Resistance::from_ohms(1.0), 2, 0.8).unwrap();
        let found = amplifier.power_at(Resistance::from_ohms(ohm), Voltage::from_volts(volts)).unwrap();
        let (low, high) = (found.low.watts(), found.high.watts());
        prop_assert!(low > 0.0 && low <= high && high.is_finite());
        prop_assert!(found.expected().watts() >= low && found.expected().watts() <= high);
    }

    #[test]
    fn silly_loads_are_refused(ohm in any::<f64>(), volts in any::<f64>()) {
        if let Ok(found) = demo().power_at(Resistance::from_ohms(ohm), Voltage::from_volts(volts)) {
            prop_assert!(found.low.watts().is_finite() && found.high.watts().is_finite());
        }
    }
}
