//! The network against the closed forms of `data/acoustics/circuits.md`, section 6, written out here on their own.
use super::rig;
use crate::assert_near;
use kerf_and_coil::model::acoustics::figures::reference_level_db;
use kerf_and_coil::model::acoustics::{
    Air, Enclosure, Load, Losses, Network, PassiveRadiator, SealedChamber, VentedChamber,
};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{Area, Compliance, Mass, Voltage, Volume};
use num_complex::Complex64;
use std::f64::consts::TAU;

const LOSSLESS: Losses = Losses { ql: None, qa: None };

/// Parameters of the 10 inch driver from their definitions (Small 1972): ωs, Qts, Vas in m³ with ρc² = 1.4·101325 Pa.
fn a10() -> (f64, f64, f64) {
    let (re, bl, mms, cms, rms, sd): (f64, f64, f64, f64, f64, f64) = (3.3, 12.5, 0.125, 0.00025, 3.4, 0.033);
    let omega = 1.0 / (mms * cms).sqrt();
    let qts = omega * mms / (rms + bl * bl / re);
    (omega, qts, 1.4 * 101_325.0 * sd * sd * cms)
}

/// Level and phase of the whole response against p = p_ref·G(s).
fn check(network: &Network, g: impl Fn(Complex64) -> Complex64) {
    let frequencies = log_grid(10.0, 500.0, 97);
    let response = rig::at_2v83(network, &frequencies);
    let reference = reference_level_db(network, Voltage::from_volts(2.83)).unwrap();
    // p_ref = ρ·Bl·E·Sd/(2π·Re·Mms) with ρ of 20 °C from the air table, 1.20408.
    let p_ref = 1.20408 * 12.5 * 2.83 * 0.033 / (TAU * 3.3 * 0.125);
    assert_near(reference, 20.0 * (p_ref / 20e-6).log10(), 1e-4);
    for (i, f) in frequencies.iter().enumerate() {
        let expected = g(Complex64::new(0.0, TAU * f));
        assert_near(response.spl_db[i] - reference, 20.0 * expected.norm().log10(), 1e-8);
        let turn = (response.phase_deg[i] - expected.arg().to_degrees()).rem_euclid(360.0);
        assert_near(turn.min(360.0 - turn), 0.0, 1e-6);
    }
}

#[test]
fn infinite_baffle() {
    let (ws, qts, _) = a10();
    let network = Enclosure::InfiniteBaffle.network(Load::single(rig::a10()), Air::standard()).unwrap();
    check(&network, |s| {
        let n = s / ws;
        n * n / (n * n + n / qts + 1.0)
    });
}

/// A closed box, with its group delay from the textbook form of a second-order high-pass.
#[test]
fn closed_box() {
    let (ws, qts, vas) = a10();
    let network =
        Enclosure::Closed { rear: SealedChamber { volume: Volume::from_litres(25.0), losses: LOSSLESS } }
            .network(Load::single(rig::a10()), Air::standard())
            .unwrap();
    let stretch = (1.0 + vas / 0.025).sqrt();
    let (wc, qtc) = (ws * stretch, qts * stretch);
    check(&network, |s| {
        let n = s / wc;
        n * n / (n * n + n / qtc + 1.0)
    });
    let frequencies = log_grid(10.0, 500.0, 97);
    let response = rig::at_2v83(&network, &frequencies);
    for (f, delay) in frequencies.iter().zip(&response.group_delay_s) {
        let x = TAU * f / wc;
        let expected = (1.0 + x * x) / (qtc * wc) / ((1.0 - x * x).powi(2) + (x / qtc).powi(2));
        assert_near(*delay, expected, 1e-9 * expected);
    }
}

#[test]
fn vented_box() {
    let (ws, qts, vas) = a10();
    let volume = Volume::from_litres(50.0);
    let network = rig::vented(rig::a10(), volume, 28.0, None);
    let alpha = vas / 0.05;
    check(&network, |s| {
        let (n, m) = (s / ws, s / (TAU * 28.0));
        n * n * m * m / ((n * n + n / qts + 1.0) * (m * m + 1.0) + m * m * alpha)
    });
}

#[test]
fn passive_radiator() {
    let (ws, qts, vas) = a10();
    let (volume, area, mass, compliance, loss) = (0.024, 0.05, 0.42, 0.0004, 1.5);
    let network = Enclosure::PassiveRadiator {
        rear: SealedChamber { volume: Volume::from_cubic_metres(volume), losses: LOSSLESS },
        radiator: PassiveRadiator {
            sd: Area::from_square_metres(area),
            mms: Mass::from_kilograms(mass),
            cms: Compliance::from_metres_per_newton(compliance),
            rms_ns_m: loss,
            count: 1,
        },
    }
    .network(Load::single(rig::a10()), Air::standard())
    .unwrap();
    let wp = 1.0 / f64::sqrt(mass * compliance);
    let qmp = wp * mass / loss;
    let delta = compliance * area * area * 1.4 * 101_325.0 / volume;
    let alpha = vas / volume;
    check(&network, |s| {
        let n = s / ws;
        let p = (s / wp) * (s / wp) + s / (wp * qmp) + 1.0;
        n * n * p / ((n * n + n / qts + 1.0) * (p + delta) + p * alpha)
    });
}

#[test]
fn fourth_order_band_pass() {
    let (ws, qts, vas) = a10();
    let (rear, front) = (0.02, 0.015);
    let stretch = (1.0 + vas / rear).sqrt();
    let (wc, qtc) = (ws * stretch, qts * stretch);
    let volume = Volume::from_cubic_metres(front);
    let network = Enclosure::Bandpass4 {
        rear: SealedChamber { volume: Volume::from_cubic_metres(rear), losses: LOSSLESS },
        front: VentedChamber { volume, losses: LOSSLESS, port: rig::port_for(wc / TAU, volume) },
    }
    .network(Load::single(rig::a10()), Air::standard())
    .unwrap();
    let a = vas / ((1.0 + vas / rear) * front);
    check(&network, |s| {
        let q = s / wc;
        let qq = q * q;
        qq / ((qq + q / qtc + 1.0) * (qq + 1.0) + qq * a)
    });
}
