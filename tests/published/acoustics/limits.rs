//! Cabin, ceiling, warming, step response and down-firing against tables, closed forms and independent integrals.
use super::{Table, rig};
use crate::assert_near;
use kerf_and_coil::model::acoustics::{
    Air, Cabin, CoilImpedance, Drive, Enclosure, End, FloorGap, Intake, Limiter, Limits, Load, Losses,
    Network, Opening, Port, SealedChamber, SignalPath, Slope, Stage, VentedChamber, ceiling,
    closed_box_frequency, closed_box_volume, compression_db, cone_sag, corner_of_length, corner_of_volume,
    high_pass_for, least_gap, respond, steady_warming_k, step_response, travel_left,
};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{Area, Frequency, Length, Power, Resistance, Voltage, Volume};
use std::f64::consts::{PI, TAU};

fn closed(litres: f64) -> Network {
    let rear = SealedChamber { volume: Volume::from_litres(litres), losses: Losses::default() };
    Enclosure::Closed { rear }.network(Load::single(rig::a10()), Air::standard()).unwrap()
}

// Table `cabin_pressure_zone.csv` (circuits.md section 7): the lift of a closed rigid cabin over half space at 1 m.
#[test]
fn the_pressure_zone_of_a_volume() {
    let c = Air::standard().speed_of_sound_m_s();
    for row in Table::read("tables/cabin_pressure_zone.csv").rows() {
        let volume = Volume::from_cubic_metres(row.number("cabin_volume_m3"));
        let corner = corner_of_volume(volume, Length::from_metres(1.0), c).unwrap();
        assert_near(corner.hertz(), row.number("unity_gain_frequency_hz"), 1e-3);
        let f = row.number("f_hz");
        let exact = row.number("gain_re_halfspace_1m_db");
        assert_near(40.0 * (corner.hertz() / f).log10(), exact, 1e-3);
        // The model's smooth knee lies 10·lg(1 + (f/fc)⁴) above the two straight lines.
        let cabin = Cabin { corner, leak: None, share: 1.0 };
        let knee = 10.0 * (1.0 + (f / corner.hertz()).powi(4)).log10();
        assert_near(cabin.gain_db(Frequency::from_hertz(f)), exact + knee, 1e-3);
    }
}

// Lowest mode of a rigid room 2.4 m long at 20 °C: 71.5 Hz = 343.237/4.8 (`rect_cavity_modes.csv` of the reference data).
#[test]
fn the_corner_of_a_length_and_the_slopes_below() {
    let corner = corner_of_length(Length::from_metres(2.4), 343.237).unwrap();
    assert_near(corner.hertz(), 71.5077, 1e-3);
    let octave = |cabin: &Cabin, f: f64| {
        cabin.gain_db(Frequency::from_hertz(f)) - cabin.gain_db(Frequency::from_hertz(2.0 * f))
    };
    let tight = Cabin { corner, leak: None, share: 1.0 };
    assert_near(octave(&tight, 2.0), 12.04, 0.01);
    assert_near(tight.gain_db(corner), 3.0103, 1e-3);
    let leaky = Cabin { leak: Some(Frequency::from_hertz(8.0)), ..tight };
    assert_near(octave(&leaky, 0.2), 6.02, 0.02);
    let open = Cabin { share: 0.0, ..tight };
    assert_near(open.gain_db(Frequency::from_hertz(10.0)), 0.0, 0.0);
}

// g/(2πfs)², g = 9.80665: `cone_sag.csv`.
#[test]
fn cones_sag_as_the_table_says() {
    for row in Table::read("tables/cone_sag.csv").rows() {
        let sag = cone_sag(Frequency::from_hertz(row.number("fs_hz"))).unwrap();
        assert_near(sag.millimetres(), row.number("sag_mm"), 1e-4);
    }
}

/// The air under a cone: the kinetic energy summed ring by ring, here with the flow written out on its own.
#[test]
fn the_gap_holds_the_mass_of_its_kinetic_energy() {
    let (a, b, h) = (0.1025, 0.16, 0.03);
    let sd = Area::from_square_metres(PI * a * a);
    let gap = FloorGap {
        height: Length::from_metres(h),
        reach: Length::from_metres(b),
        windows: None,
        depth: Length::from_metres(0.0),
    };
    // Unit flow out of the cone: through the ring at r passes (r/a)² of it under the cone, all of it outside.
    let rings = 200_000;
    let step = b / f64::from(rings);
    let energy: f64 = (0..rings)
        .map(|k| {
            let r = (f64::from(k) + 0.5) * step;
            let flow = if r < a { (r / a).powi(2) } else { 1.0 };
            let speed = flow / (TAU * r * h);
            0.5 * 1.20408 * speed * speed * TAU * r * h * step
        })
        .sum();
    let mass = gap.acoustic_mass_kg_m4(sd, &Air::standard()).unwrap();
    assert_near(mass / (2.0 * energy), 1.0, 1e-4);
    // Windows in series add ρ·(depth + two flanged ends)/S: 1.20408·(0.018 + 2·0.8217·√(0.02/π))/0.02.
    let windows =
        FloorGap { windows: Some(Area::from_square_metres(0.02)), depth: Length::from_metres(0.018), ..gap };
    let more = windows.acoustic_mass_kg_m4(sd, &Air::standard()).unwrap() - mass;
    assert_near(more, 1.20408 * (0.018 + 1.6434 * (0.02f64 / PI).sqrt()) / 0.02, 1e-3);
    // The added mass lowers a resonance by √(M/(M + m)).
    let load = Load::single(rig::a10());
    let loaded = windows.loaded(&load, &Air::standard()).unwrap();
    let volume = Volume::from_litres(25.0);
    let fc = |load: &Load| closed_box_frequency(load, volume, &Air::standard()).unwrap().hertz();
    let added = windows.mass_on_cone(load.driver.sd, &Air::standard()).unwrap().kilograms();
    // Another mass also changes nothing but the resonance: stiffness and Vas stay.
    assert_near(fc(&loaded) / fc(&load), (0.125 / (0.125 + added)).sqrt(), 1e-9);
    // Least gap: half of a cone's radius of 102.5 mm, or twice 20 mm of travel and the sag.
    assert_near(least_gap(sd, None, Length::from_metres(0.0)).millimetres(), 51.25, 1e-6);
    let travel = least_gap(sd, Some(Length::from_millimetres(30.0)), Length::from_millimetres(1.0));
    assert_near(travel.millimetres(), 61.0, 1e-9);
}

/// A driver without coil inductance: |Z| peaks where the reactance of cone, box and port together is none.
fn without_inductance() -> Load {
    let mut load = Load::single(rig::a10());
    load.driver.coil = CoilImpedance::None;
    load
}

/// The gap's mass moves the peaks of a box's impedance; lossless box, so by closed forms of circuits.md sections 2 to 4:
/// closed ωc² = (1/Cms + Sd²/Cab)/M; vented M·x² − (k + kb + M·ωb²)·x + k·ωb² = 0 in x = ω², with k = 1/Cms,
/// kb = Sd²/Cab. The port's own tuning ωb has no cone in it and stays.
#[test]
fn the_gap_lowers_the_peaks_of_the_box() {
    let air = Air::standard();
    let load = without_inductance();
    let (mms, k) = (load.driver.mms.kilograms(), 1.0 / load.driver.cms.metres_per_newton());
    let sd = load.driver.sd.square_metres();
    let gap = FloorGap {
        height: Length::from_millimetres(30.0),
        reach: Length::from_millimetres(160.0),
        windows: Some(Area::from_square_centimetres(150.0)),
        depth: Length::from_millimetres(18.0),
    };
    let added = gap.mass_on_cone(load.driver.sd, &air).unwrap().kilograms();
    assert!(added > 0.01, "{added}");
    let bulk = 1.4 * 101_325.0;
    let volume = Volume::from_litres(40.0);
    let kb = sd * sd * bulk / 0.04;

    let rear = SealedChamber { volume, losses: Losses::default() };
    let peaks = gap.peaks(&Enclosure::Closed { rear }, &load, None, &air).unwrap();
    assert_eq!(peaks.len(), 1);
    assert_near(peaks[0].0.hertz(), ((k + kb) / mms).sqrt() / TAU, 2e-4);
    assert_near(peaks[0].1.hertz(), ((k + kb) / (mms + added)).sqrt() / TAU, 2e-4);

    let port = Port {
        opening: Opening::Round { diameter: Length::from_millimetres(100.0) },
        length: Length::from_millimetres(200.0),
        inner: End::Free,
        outer: End::Flanged,
        count: 1,
        qp: None,
    };
    let rear = VentedChamber { volume, losses: Losses::default(), port };
    let peaks = gap.peaks(&Enclosure::Vented { rear }, &load, None, &air).unwrap();
    assert_eq!(peaks.len(), 2);
    let (area, c2) = (PI * 0.05 * 0.05, 1.4 * 287.058 * 293.15);
    let tuned = c2 * area / (0.04 * (0.2 + (0.6133 + 0.8217) * 0.05));
    for (with, mass) in [(false, mms), (true, mms + added)] {
        let (a, b, c) = (mass, -(k + kb + mass * tuned), k * tuned);
        let root = (b * b - 4.0 * a * c).sqrt();
        for (peak, x) in peaks.iter().zip([(-b - root) / (2.0 * a), (-b + root) / (2.0 * a)]) {
            let found = if with { peak.1 } else { peak.0 };
            assert_near(found.hertz(), x.sqrt() / TAU, 2e-4);
        }
    }
}

/// Where travel limits a closed box, the level is that of the air it displaces: p = ρ·ω²·Sd·x/(2π·√2·r).
#[test]
fn the_ceiling_follows_travel_voltage_current_and_heat() {
    let network = closed(25.0);
    let drive: Drive = Voltage::from_volts(20.0).into();
    let frequencies = log_grid(10.0, 500.0, 120);
    let response = respond(&network, drive, &frequencies).unwrap();
    let limits = Limits {
        cone: Some(Length::from_millimetres(12.0)),
        voltage: Some(Voltage::from_volts(45.0)),
        ..Limits::default()
    };
    let top = ceiling(&network.load, &drive, &response, &limits).unwrap();
    let (mut cone, mut voltage) = (0, 0);
    for (i, f) in frequencies.iter().enumerate() {
        match top.limiter[i] {
            Limiter::Cone => {
                cone += 1;
                let p = 1.20408 * (TAU * f).powi(2) * 0.033 * 0.012 / (TAU * 2f64.sqrt());
                assert_near(top.level_db[i], 20.0 * (p / 20e-6).log10(), 1e-3);
                assert!(top.voltage_v[i] <= 45.0);
            }
            _ => {
                voltage += 1;
                assert_eq!(top.limiter[i], Limiter::Voltage);
                assert_near(top.level_db[i], response.spl_db[i] + 20.0 * (45.0f64 / 20.0).log10(), 1e-9);
                assert!(response.excursion_peak_m[i] * 45.0 / 20.0 <= 0.012 * (1.0 + 1e-9));
            }
        }
    }
    assert!(cone > 10 && voltage > 10, "{cone} {voltage}");
    // Current and heat: 8 A and 200 W into 3.3 Ω, which is √(200/3.3) = 7.785 A.
    for (limits, amps, limiter) in [
        (Limits { current_a: Some(8.0), ..Limits::default() }, 8.0, Limiter::Current),
        (
            Limits { coil: Some(Power::from_watts(200.0)), ..Limits::default() },
            (200.0f64 / 3.3).sqrt(),
            Limiter::Coil,
        ),
    ] {
        let top = ceiling(&network.load, &drive, &response, &limits).unwrap();
        for i in 0..frequencies.len() {
            assert_eq!(top.limiter[i], limiter);
            assert_near(top.voltage_v[i] / response.impedance_ohm[i].norm(), amps, 1e-9);
        }
    }
    assert_eq!(ceiling(&network.load, &drive, &response, &Limits::default()), None);
}

/// The high-pass advised keeps the cone within its travel, and one a little lower does not.
#[test]
fn the_high_pass_advised_is_the_lowest_that_helps() {
    let network = rig::vented(rig::a10(), Volume::from_litres(50.0), 32.0, Some(7.0));
    let response = respond(&network, Voltage::from_volts(28.0), &log_grid(10.0, 500.0, 240)).unwrap();
    let limit = Length::from_millimetres(14.0);
    let slope = Slope::Butterworth24;
    let corner = high_pass_for(&response, limit, slope, Frequency::from_hertz(60.0))
        .unwrap()
        .expect("a high-pass helps");
    let most = |corner: f64| {
        let stage = Stage::HighPass { slope, corner: Frequency::from_hertz(corner) };
        let through = SignalPath { stages: vec![stage] }.applied(&response, None).unwrap();
        through.excursion_peak_m.into_iter().fold(0.0, f64::max)
    };
    assert!(most(corner.hertz()) <= 0.014 * 1.0011);
    assert!(most(corner.hertz() * 0.97) > 0.014);
    assert!((10.0..40.0).contains(&corner.hertz()), "{corner:?}");
    // What a path with a high-pass leaves: with the corner advised nothing, an octave lower a stretch around the
    // frequency of the greatest travel, and the same advice again, whatever is lifted beside it.
    let at = |corner: f64, gain_db: f64| {
        let high = Stage::HighPass { slope, corner: Frequency::from_hertz(corner) };
        let band = Stage::Band { centre: Frequency::from_hertz(120.0), gain_db, q: 1.0 };
        let path = SignalPath { stages: vec![high, band] };
        travel_left(&response, &path, limit, Frequency::from_hertz(60.0)).unwrap()
    };
    let enough = at(corner.hertz(), 0.0);
    assert_eq!((enough.corner, enough.over, enough.enough), (Some(corner), None, None));
    for gain_db in [0.0, 9.0] {
        let low = at(0.5 * corner.hertz(), gain_db);
        let (from, to) = low.over.expect("a corner that low leaves too much");
        assert!(from < to && to.hertz() < 40.0, "{from:?} {to:?}");
        let stage = Stage::HighPass { slope, corner: Frequency::from_hertz(0.5 * corner.hertz()) };
        let through = SignalPath { stages: vec![stage] }.applied(&response, None).unwrap();
        let beyond = |hz: f64| {
            let i = response.frequencies_hz.iter().position(|f| *f == hz).unwrap();
            through.excursion_peak_m[i] > 0.014
        };
        assert!(beyond(from.hertz()) && beyond(to.hertz()));
        assert_near(low.enough.expect("a corner that helps").hertz() / corner.hertz(), 1.0, 0.011);
    }
    let generous = high_pass_for(&response, Length::from_metres(1.0), slope, Frequency::from_hertz(60.0));
    assert_eq!(generous, Ok(None));
}

// Copper, 0.00393 per kelvin from 20 °C (IEC 60228): 100 K make 1.393 times the resistance, 20·lg 1.393 = 2.879 dB.
#[test]
fn warm_coils_take_less() {
    let none = Resistance::from_ohms(0.0);
    assert_near(compression_db(Resistance::from_ohms(3.3), none, 100.0), 2.879, 1e-3);
    assert_near(compression_db(Resistance::from_ohms(3.3), Resistance::from_ohms(3.3), 100.0), 1.5583, 1e-4);
    // In balance the warming is Rth times the power the warm coil takes: ΔT = Rth·P/(1 + αΔT).
    for (watts, thermal) in [(0.0, 2.0), (50.0, 1.0), (400.0, 0.8), (1000.0, 2.5)] {
        let kelvin = steady_warming_k(watts, thermal);
        assert_near(kelvin, thermal * watts / (1.0 + 0.00393 * kelvin), 1e-9);
    }
}

#[test]
fn intake_is_ohms_law() {
    let network = closed(25.0);
    let drive = Drive { source_resistance: Resistance::from_ohms(0.2), ..Voltage::from_volts(10.0).into() };
    let response = respond(&network, drive, &log_grid(10.0, 500.0, 40)).unwrap();
    let intake = Intake::of(&drive, &response);
    for (i, z) in response.impedance_ohm.iter().enumerate() {
        let current = 10.0 / (z.re + 0.2).hypot(z.im);
        assert_near(intake.current_a[i], current, 1e-12);
        assert_near(intake.power_w[i], current * current * z.re, 1e-9);
    }
}

// First undershoot of the step of a closed box, Small 1972 (`closed_box_qtc.csv`, 1e-4); and the whole step of the
// critically damped one, (1 − ωt)·e^(−ωt).
#[test]
fn steps_of_closed_boxes() {
    for row in Table::read("tables/closed_box_qtc.csv").rows() {
        let qtc = row.number("Qtc");
        let load = Load::single(rig::driver_of(15.0, 0.39, 60.0));
        let volume = closed_box_volume(&load, qtc, &Air::standard()).unwrap().expect("above Qts");
        let rear = SealedChamber { volume, losses: Losses::default() };
        let network = Enclosure::Closed { rear }.network(load, Air::standard()).unwrap();
        let fc = closed_box_frequency(&load, volume, &Air::standard()).unwrap().hertz();
        let times: Vec<f64> = (0..800).map(|k| f64::from(k) * 0.000_25).collect();
        let drive = Voltage::from_volts(1.0).into();
        let step = step_response(&network, &drive, &SignalPath::default(), &times).unwrap();
        let undershoot = -step.iter().copied().fold(f64::INFINITY, f64::min);
        assert_near(100.0 * undershoot, row.number("step_undershoot_pct"), 0.25);
        if (qtc - 0.5).abs() < 1e-9 {
            for (t, s) in times.iter().zip(&step).filter(|(t, _)| **t > 0.004) {
                let x = TAU * fc * t;
                assert_near(*s, (1.0 - x) * (-x).exp(), 0.004);
            }
        }
    }
}
