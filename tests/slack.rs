//! Slack against closed-form propagation of errors.
use kerf_and_coil::model::acoustics::slack::{Built, Slack, SlackJob, Spread, Spreading, Tolerances};
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Driver, Enclosure, End, Load, Losses, Opening, Port, SealedChamber, SignalPath,
    Slope, Stage, VentedChamber, respond,
};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{
    Area, Compliance, ForceFactor, Frequency, Length, Mass, Resistance, Voltage, Volume,
};

const SET_FS: f64 = 28.470_501_736_7;
/// Vas of the driver below in m³: ρc²·Sd²·Cms = 141 855 Pa · 0.033² m⁴ · 0.25 mm/N.
const VAS: f64 = 0.038_620_023_75;
const NET: f64 = 0.025;

fn built(enclosure: Enclosure) -> Built {
    Built {
        load: Load::single(Driver {
            re: Resistance::from_ohms(3.3),
            coil: CoilImpedance::None,
            bl: ForceFactor::from_tesla_metres(12.5),
            mms: Mass::from_grams(125.0),
            cms: Compliance::from_millimetres_per_newton(0.25),
            rms_ns_m: 3.4,
            sd: Area::from_square_centimetres(330.0),
        }),
        unequal: None,
        enclosure,
        inside: [0.4, 0.3, 0.21].map(Length::from_metres),
        air: Air::standard(),
        drive: Voltage::from_volts(2.83).into(),
        path: SignalPath::default(),
        most: None,
    }
}

fn closed() -> Built {
    built(Enclosure::Closed {
        rear: SealedChamber {
            volume: Volume::from_cubic_metres(NET),
            losses: Losses { ql: Some(10.0), qa: Some(50.0) },
        },
    })
}

fn vented() -> Built {
    built(Enclosure::Vented {
        rear: VentedChamber {
            volume: Volume::from_cubic_metres(NET),
            losses: Losses { ql: Some(10.0), qa: Some(50.0) },
            port: Port {
                opening: Opening::Round { diameter: Length::from_millimetres(80.0) },
                length: Length::from_millimetres(250.0),
                inner: End::Free,
                outer: End::Flanged,
                count: 1,
                qp: Some(60.0),
            },
        },
    })
}

const NONE: Tolerances =
    Tolerances { cut: Length::from_metres(0.0), fs: 0.0, qts: 0.0, vas: 0.0, air: 0.0, losses: 1.0 };
const USUAL: Tolerances =
    Tolerances { cut: Length::from_millimetres(0.8), fs: 0.1, qts: 0.1, vas: 0.15, air: 0.03, losses: 1.5 };

fn run(built: Built, tolerances: Tolerances) -> Slack {
    run_of(built, tolerances, 300)
}

fn run_of(built: Built, tolerances: Tolerances, variants: usize) -> Slack {
    let mut job = SlackJob::start(built, tolerances, &log_grid(10.0, 500.0, 60), variants).unwrap();
    while !job.step(7) {}
    job.outcome()
}

fn of(slack: &Slack, figure: Spreading) -> Spread {
    slack.figures.iter().find(|(f, _)| *f == figure).unwrap_or_else(|| panic!("{figure:?}")).1
}

fn near(actual: f64, expected: f64, relative: f64) {
    assert!((actual - expected).abs() <= relative * expected.abs(), "{actual}, expected {expected}");
}

// One flat distribution of ± t: nine in ten lie within ± 0.9 t, the standard deviation is t/√3. fc goes with fs.
#[test]
fn the_spread_of_one_quantity_is_that_of_a_flat_distribution() {
    let slack = run(closed(), Tolerances { fs: 0.1, ..NONE });
    let fc = SET_FS * (1.0 + VAS / NET).sqrt();
    let found = of(&slack, Spreading::Resonance);
    near(found.low, fc * 0.91, 2e-3);
    near(found.high, fc * 1.09, 2e-3);
    near(found.deviation, fc * 0.1 / 3f64.sqrt(), 5e-3);
}

// First-order propagation: fc = fs·√(1 + α), α = Vas/V, so dfc/fc = dfs/fs + ½·α/(1+α)·(dVas/Vas − dV/V); each
// relative error flat with deviation t/√3, and the volume's from three cuts of ± 0.8 mm on 0.4, 0.3 and 0.21 m and ± 3 %
// of air. Qtc = Qts·√(1 + α) alike.
#[test]
fn spreads_follow_the_propagation_of_errors() {
    let small = Tolerances {
        cut: Length::from_millimetres(0.8),
        fs: 0.02,
        qts: 0.03,
        vas: 0.05,
        air: 0.03,
        losses: 1.5,
    };
    // So many variants that chance adds a hundredth; a few hundred, as on the page, a twentieth.
    let slack = run_of(closed(), small, 4000);
    let alpha = VAS / NET;
    let half = 0.5 * alpha / (1.0 + alpha);
    let third = 3f64.sqrt();
    // The cuts change the gross inside of 0.0252 m³, the air is net.
    let gross: f64 = 0.4 * 0.3 * 0.21;
    let cuts = [0.4_f64, 0.3, 0.21].map(|l| gross / NET * 0.8e-3 / l / third);
    let volume2 = cuts.iter().map(|c| c * c).sum::<f64>() + (0.03 / third).powi(2);
    near(of(&slack, Spreading::Net).deviation, NET * volume2.sqrt(), 0.03);
    let both2 = half * half * ((0.05 / third).powi(2) + volume2);
    let fc = SET_FS * (1.0 + alpha).sqrt();
    near(of(&slack, Spreading::Resonance).deviation, fc * ((0.02 / third).powi(2) + both2).sqrt(), 0.03);
    // Qes = ωs·Mms·Re/Bl², Qms = ωs·Mms/Rms.
    let reactance = std::f64::consts::TAU * SET_FS * 0.125;
    let (qes, qms) = (reactance * 3.3 / (12.5 * 12.5), reactance / 3.4);
    let qtc = qes * qms / (qes + qms) * (1.0 + alpha).sqrt();
    let found = of(&slack, Spreading::Qtc);
    near(0.5 * (found.low + found.high), qtc, 5e-3);
    near(found.deviation, qtc * ((0.03 / third).powi(2) + both2).sqrt(), 0.03);
}

// fb ∝ 1/√(V·Leff): dfb/fb = −½(dV/V + dL/Leff); Leff = 250 mm + (0.6133 + 0.8217)·40 mm, the end corrections of the
// reference circuits.
#[test]
fn the_tuning_spreads_by_volume_and_length() {
    let cuts_and_air = Tolerances { cut: Length::from_millimetres(0.8), air: 0.03, ..NONE };
    let slack = run_of(vented(), cuts_and_air, 4000);
    let third = 3f64.sqrt();
    let gross: f64 = 0.4 * 0.3 * 0.21;
    let cuts = [0.4_f64, 0.3, 0.21].map(|l| gross / NET * 0.8e-3 / l / third);
    let volume2 = cuts.iter().map(|c| c * c).sum::<f64>() + (0.03 / third).powi(2);
    let effective = 0.25 + (0.6133 + 0.8217) * 0.04;
    let length2 = (0.8e-3 / effective / third).powi(2);
    let c = (1.4 * 287.058 * 293.15_f64).sqrt();
    let fb = c / std::f64::consts::TAU * (std::f64::consts::PI * 0.04 * 0.04 / (NET * effective)).sqrt();
    let found = of(&slack, Spreading::Resonance);
    near(found.deviation, 0.5 * fb * (volume2 + length2).sqrt(), 0.03);
    near(0.5 * (found.low + found.high), fb, 2e-3);
}

#[test]
fn without_tolerance_the_bands_are_the_curves() {
    let frequencies = log_grid(10.0, 500.0, 60);
    let corner = Frequency::from_hertz(30.0);
    let stages = vec![Stage::HighPass { slope: Slope::LinkwitzRiley12, corner }];
    let filtered = Built { path: SignalPath { stages }, ..closed() };
    for built in [closed(), vented(), filtered] {
        let slack = run(built.clone(), NONE);
        let network = built.enclosure.network(built.load, built.air).unwrap();
        let response = respond(&network, built.drive, &frequencies).unwrap();
        let response = built.path.applied(&response, built.most).unwrap();
        for (curve, band) in [
            (&response.spl_db, &slack.level),
            (&response.excursion_peak_m, &slack.travel),
            (&response.group_delay_s, &slack.delay),
        ] {
            for ((value, low), high) in curve.iter().zip(&band.low).zip(&band.high) {
                // A lossless suspension aside, fs, Q and Vas come back from the driver they were read off.
                near(*low, *value, 1e-6);
                near(*high, *value, 1e-6);
            }
        }
        assert_eq!(slack.port.low.len(), if response.ducts.is_empty() { 0 } else { 60 });
    }
}

#[test]
fn bands_enclose_the_curves_and_come_back_alike() {
    for built in [closed(), vented()] {
        let slack = run(built.clone(), USUAL);
        assert_eq!(slack, run(built.clone(), USUAL));
        let network = built.enclosure.network(built.load, built.air).unwrap();
        let response = respond(&network, built.drive, &log_grid(10.0, 500.0, 60)).unwrap();
        for (i, level) in response.spl_db.iter().enumerate() {
            assert!(slack.level.low[i] < *level && *level < slack.level.high[i], "{i}");
            assert!(slack.level.high[i] - slack.level.low[i] < 12.0, "{i}");
        }
        for figure in [Spreading::F3, Spreading::F10, Spreading::Travel, Spreading::Impedance] {
            let found = of(&slack, figure);
            assert!(found.low < found.high && found.deviation > 0.0, "{figure:?} {found:?}");
        }
    }
}

#[test]
fn nonsense_is_refused() {
    let frequencies = log_grid(10.0, 500.0, 10);
    let start = |tolerances, variants| SlackJob::start(closed(), tolerances, &frequencies, variants).is_err();
    assert!(start(Tolerances { fs: f64::NAN, ..NONE }, 300));
    assert!(start(Tolerances { losses: 0.5, ..NONE }, 300));
    assert!(start(Tolerances { cut: Length::from_metres(1.0), ..NONE }, 300));
    assert!(start(NONE, 1));
}
