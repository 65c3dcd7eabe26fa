//! What holds for every loudspeaker, and for every input however silly.
use super::rig;
use crate::assert_near;
use kerf_and_coil::model::acoustics::datasheet::{Connection, DataSheet, Printed, resolve};
use kerf_and_coil::model::acoustics::figures::{figures, reference_level_db};
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Drive, Driver, Enclosure, End, Load, Losses, Opening, PassiveRadiator, Port,
    SealedChamber, VentedChamber, Wiring, respond,
};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{
    Area, Compliance, ForceFactor, Inductance, Length, Mass, Pressure, Resistance, Temperature, Voltage,
    Volume,
};
use proptest::prelude::*;

/// Any number: plausible, silly, or not a number at all.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => (-4.0..4.0f64).prop_map(|e| 10f64.powf(e)),
        2 => (-30.0..30.0f64).prop_map(|e| 10f64.powf(e)),
        1 => any::<f64>(),
        1 => prop_oneof![
            Just(0.0), Just(-0.0), Just(-1.0), Just(f64::NAN), Just(f64::INFINITY), Just(f64::MIN_POSITIVE),
            Just(f64::MAX)
        ],
    ]
}

/// A number within `low` and `high`, equally likely in each decade.
fn within(low: f64, high: f64) -> impl Strategy<Value = f64> {
    (low.ln()..high.ln()).prop_map(f64::exp)
}

fn coil(a: f64, b: f64, c: f64, d: f64, kind: u8) -> CoilImpedance {
    let henries = Inductance::from_henries;
    match kind % 5 {
        0 => CoilImpedance::None,
        1 => CoilImpedance::L { le: henries(a) },
        2 => CoilImpedance::Lr2 { le: henries(a), l2: henries(b), r2: Resistance::from_ohms(1e3 * c) },
        3 => CoilImpedance::Power { k: 10.0 * a, n: d },
        _ => CoilImpedance::Semi {
            leb: henries(a),
            le: henries(b),
            ke: 10.0 * c,
            rss: (kind >= 128).then(|| Resistance::from_ohms(1e4 * c)),
        },
    }
}

/// An enclosure from thirteen numbers.
fn enclosure(v: &[f64], kind: u8, end: u8) -> Enclosure {
    let losses =
        |i: usize| Losses { ql: (kind & 64 == 0).then_some(v[i]), qa: (kind & 32 == 0).then_some(v[i + 1]) };
    let ends = [End::Flanged, End::Free, End::RectFlanged, End::RectWall, End::RectCorner];
    let port = |i: usize| Port {
        opening: if end & 8 == 0 {
            Opening::Slot { width: Length::from_metres(v[i]), height: Length::from_metres(v[i + 1]) }
        } else {
            Opening::Round { diameter: Length::from_metres(v[i]) }
        },
        length: Length::from_metres(v[i + 2]),
        inner: ends[usize::from(if end & 8 == 0 { end % 5 } else { end % 2 })],
        outer: End::Flanged,
        count: u32::from(end % 3) + 1,
        qp: (kind & 16 == 0).then_some(50.0),
    };
    let sealed = SealedChamber { volume: Volume::from_cubic_metres(v[0]), losses: losses(2) };
    let vented = |volume: usize, loss: usize, at: usize| VentedChamber {
        volume: Volume::from_cubic_metres(v[volume]),
        losses: losses(loss),
        port: port(at),
    };
    match kind % 7 {
        0 => Enclosure::InfiniteBaffle,
        1 => Enclosure::Closed { rear: sealed },
        2 => Enclosure::Vented { rear: vented(0, 2, 6) },
        3 => Enclosure::PassiveRadiator {
            rear: sealed,
            radiator: PassiveRadiator {
                sd: Area::from_square_metres(v[6]),
                mms: Mass::from_kilograms(v[7]),
                cms: Compliance::from_metres_per_newton(v[8] * 1e-3),
                rms_ns_m: v[9],
                count: u32::from(end % 4) + 1,
            },
        },
        4 => Enclosure::Bandpass4 { rear: sealed, front: vented(1, 4, 6) },
        5 => Enclosure::Bandpass6Parallel { rear: vented(0, 2, 6), front: vented(1, 4, 9) },
        _ => Enclosure::Bandpass6Series { rear: vented(0, 2, 6), front: vented(1, 4, 9) },
    }
}

/// Kinds of [`enclosure`] with leaks and without absorption.
const LEAKY_CLOSED: u8 = 36;
const LEAKY_VENTED: u8 = 37;

/// Thirteen plausible numbers for [`enclosure`].
fn plausible_box() -> impl Strategy<Value = Vec<f64>> {
    (
        proptest::collection::vec(within(0.005, 0.5), 2),
        proptest::collection::vec(within(3.0, 100.0), 4),
        proptest::collection::vec(within(0.02, 0.6), 6),
    )
        .prop_map(|(volumes, losses, sizes)| [volumes, losses, sizes, vec![0.0]].concat())
}

fn plausible_driver() -> impl Strategy<Value = Driver> {
    (
        (within(1.0, 12.0), within(4.0, 30.0), within(0.02, 0.6), within(5e-5, 1e-3)),
        (within(0.5, 12.0), within(0.01, 0.15), within(1e-4, 3e-3), 0.5..1.0f64, any::<u8>()),
    )
        .prop_map(|((re, bl, mms, cms), (rms, sd, le, n, kind))| Driver {
            re: Resistance::from_ohms(re),
            coil: coil(le, 2.0 * le, 10.0 * le, n, kind),
            bl: ForceFactor::from_tesla_metres(bl),
            mms: Mass::from_kilograms(mms),
            cms: Compliance::from_metres_per_newton(cms),
            rms_ns_m: rms,
            sd: Area::from_square_metres(sd),
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Mass law: far above every resonance a box without inductance levels off at the reference, leaks or not. Without
    /// absorption, that is: behind a resistance the air never stops pushing through the leaks.
    #[test]
    fn the_mass_law_holds(driver in plausible_driver(), v in plausible_box(), vented in any::<bool>()) {
        let driver = Driver { coil: CoilImpedance::None, ..driver };
        let network = enclosure(&v, if vented { LEAKY_VENTED } else { LEAKY_CLOSED }, 0).network(Load::single(driver), Air::standard()).unwrap();
        let volts = Voltage::from_volts(10.0);
        let response = respond(&network, volts, &[500_000.0, 1_000_000.0]).unwrap();
        let reference = reference_level_db(&network, volts).unwrap();
        for level in response.spl_db {
            prop_assert!((level - reference).abs() < 0.01, "{level} dB, {reference} dB");
        }
    }

    /// Energy: the box takes power and gives none, so the real part of Z is at least that of the coil, Re without
    /// inductance; and what goes into Re and the mechanical losses isn't more than what comes in.
    #[test]
    fn no_box_gives_power(driver in plausible_driver(), v in plausible_box(), kind in any::<u8>(), end in any::<u8>(),
                          drivers in 1usize..5) {
        let load = Load { driver, wiring: Wiring::of_drivers(drivers, 1) };
        let Ok(network) = enclosure(&v, kind, end).network(load, Air::standard()) else {
            return Err(TestCaseError::reject("not a box"));
        };
        let frequencies = log_grid(10.0, 500.0, 60);
        let volts = 10.0;
        let response = respond(&network, Voltage::from_volts(volts), &frequencies).unwrap();
        for (i, z) in response.impedance_ohm.iter().enumerate() {
            let omega = std::f64::consts::TAU * frequencies[i];
            let coil = driver.coil.at(omega).0.re + driver.re.ohms();
            let resistance = coil * drivers as f64;
            prop_assert!(z.re >= resistance * (1.0 - 1e-9), "{z} Ω at {} Hz", frequencies[i]);
            let current = volts / z.norm();
            let velocity = response.excursion_peak_m[i] / 2f64.sqrt() * omega;
            let mechanical = velocity * velocity * driver.rms_ns_m * drivers as f64;
            let power_in = current * current * z.re;
            prop_assert!(current * current * resistance + mechanical <= power_in * (1.0 + 1e-9));
        }
    }

    /// Group delay from the derivative equals the slope of the phase, found here by a central difference.
    #[test]
    fn group_delay_is_the_slope_of_the_phase(driver in plausible_driver(), v in plausible_box(), kind in any::<u8>(),
                                             end in any::<u8>(), f in within(10.0, 500.0)) {
        let Ok(network) = enclosure(&v, kind & !(64 | 32 | 16), end).network(Load::single(driver), Air::standard()) else {
            return Err(TestCaseError::reject("not a box"));
        };
        let step = 1e-5;
        let points = [f * (1.0 - step), f, f * (1.0 + step)];
        let response = rig::at_2v83(&network, &points);
        let turn = (response.phase_deg[2] - response.phase_deg[0] + 180.0).rem_euclid(360.0) - 180.0;
        let slope = -turn / 360.0 / (points[2] - points[0]);
        let delay = response.group_delay_s[1];
        // The difference itself errs in a deep notch, by the square of the turn of phase over its step.
        let turn_of_step = std::f64::consts::TAU * f * step * delay;
        let tolerance = 1e-6 + delay.abs() * (1e-4 + 10.0 * turn_of_step * turn_of_step);
        prop_assert!((slope - delay).abs() < tolerance, "{slope} s, {delay} s");
    }

    /// Whatever comes in, an error or finite numbers come out.
    #[test]
    fn silly_input_gives_an_error_or_finite_numbers(
        d in proptest::collection::vec(any_number(), 10), v in proptest::collection::vec(any_number(), 13),
        tame in any::<[bool; 2]>(), kind in any::<u8>(), end in any::<u8>(), air in (any_number(), any_number()),
        drive in (any_number(), any_number(), any_number()), f in proptest::collection::vec(any_number(), 4),
        plain in plausible_driver(), plain_box in plausible_box(),
    ) {
        let driver = if tame[0] { plain } else {
            Driver {
                re: Resistance::from_ohms(d[0]),
                coil: coil(d[1], d[2], d[3], d[4], kind),
                bl: ForceFactor::from_tesla_metres(d[5]),
                mms: Mass::from_kilograms(d[6]),
                cms: Compliance::from_metres_per_newton(d[7]),
                rms_ns_m: d[8],
                sd: Area::from_square_metres(d[9]),
            }
        };
        let v = if tame[1] { plain_box } else { v };
        let air = Air::at(Temperature::from_celsius(air.0), Pressure::from_pascals(air.1)).unwrap_or(Air::standard());
        let Ok(network) = enclosure(&v, kind, end).network(Load::single(driver), air) else { return Ok(()) };
        let drive = Drive {
            voltage: Voltage::from_volts(drive.0),
            source_resistance: Resistance::from_ohms(drive.1),
            distance: Length::from_metres(drive.2),
        };
        for drive in [drive, Voltage::from_volts(2.83).into()] {
            let Ok(response) = respond(&network, drive, &f) else { continue };
            let mut numbers = [
                response.spl_db.clone(), response.phase_deg.clone(), response.group_delay_s.clone(),
                response.excursion_peak_m.clone(), response.impedance_magnitude_ohm(), response.impedance_phase_deg(),
            ].concat();
            for duct in &response.ducts { numbers.extend(&duct.velocity_peak_m_s); }
            for radiator in &response.radiators { numbers.extend(&radiator.excursion_peak_m); }
            prop_assert!(numbers.len() >= 6 * f.len());
            prop_assert!(numbers.iter().all(|x| x.is_finite()), "{response:?}");
            if let Ok(found) = figures(&network, drive, &response) {
                prop_assert!(found.reference_level_db.is_finite() && found.loudest_db.value.is_finite());
                prop_assert!(found.excursion.value.metres().is_finite() && found.excursion.at.hertz() > 0.0);
                prop_assert!(found.impedance_minimum.value.ohms().is_finite());
            }
        }
    }

    /// Any sheet, sensible or not: a finite driver, or a word about what is wrong.
    #[test]
    fn silly_sheets_give_an_error_or_a_driver(
        values in proptest::collection::vec(proptest::option::of((any_number(), any_number())), 16),
        coils in 0u32..6, connection in 0u8..3,
    ) {
        let p = |i: usize| values[i].map(|(value, half)| Printed::new(value, half * 1e-3));
        let sheet = DataSheet {
            coils,
            measured: [Connection::OneCoil, Connection::Series, Connection::Parallel][usize::from(connection)],
            fs: p(0), re_per_coil: p(1), qes: p(2), qms: p(3), qts: p(4), vas: p(5), sd: p(6), xmax: p(7), le: p(8),
            mms: p(9), cms: p(10), bl: p(11), vd: p(12), xmech: p(13), coil_height: p(14), gap_height: p(15),
        };
        if let Ok(resolved) = resolve(&sheet) {
            prop_assert!(resolved.driver.check().is_ok());
            prop_assert!(resolved.qts.is_finite() && resolved.sensitivity_1w_db.is_finite());
            prop_assert!(resolved.values.iter().all(|v| v.value.is_finite()));
        }
    }
}

/// Nothing is heard of no voltage, and nothing breaks.
#[test]
fn no_voltage_is_silent() {
    let network = rig::vented(rig::a10(), Volume::from_litres(50.0), 28.0, Some(7.0));
    let response = respond(&network, Voltage::from_volts(0.0), &[30.0]).unwrap();
    assert!(response.spl_db[0] < -500.0 && response.spl_db[0].is_finite());
    assert_near(response.excursion_peak_m[0], 0.0, 0.0);
    let driven = rig::at_2v83(&network, &[30.0]);
    assert_near((response.impedance_ohm[0] - driven.impedance_ohm[0]).norm(), 0.0, 1e-12);
}
