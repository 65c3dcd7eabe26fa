//! The amplifier's models by hand, and the bounds they must keep.
use kerf_and_coil::design::quick::{Answer, Question, Values};
use kerf_and_coil::model::electrical::amplifier::{Amplifier, Output, PowerBasis, Rails, Rating};
use kerf_and_coil::model::electrical::quick::{
    coil_resistance_band, gain_voltage, power_from_voltage, sagged_gain,
};
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
    // Outside: 8 Ω at 4 Ω's voltage 125 W, at its current 500 W; 0.5 Ω at 1 Ω's current 350 W, at its voltage 1400 W.
    assert_eq!((low(8.0), high(8.0)), (125.0, 500.0));
    assert_eq!((low(0.5), high(0.5)), (350.0, 1400.0));
    assert_eq!(at(8.0).basis, PowerBasis::OutsideRated);
    assert!(at(1.0).stable && !at(0.95).stable);
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
        Question::Gain.answer(&Values { numbers, choice: 0, cable: CableUnit::Gauge }).unwrap()
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
