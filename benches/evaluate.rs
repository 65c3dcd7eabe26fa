//! How long one design takes: its response at 240 frequencies, its key figures, its data sheet, and everything at once.
//!
//! `benches/ratios.py` runs this and sets it beside ngspice and numpy.
use criterion::{Criterion, criterion_group, criterion_main};
use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::{Sheet, parse_entry};
use kerf_and_coil::design::evaluate::evaluate as evaluate_sheet;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::model::acoustics::datasheet::{DataSheet, Printed, resolve};
use kerf_and_coil::model::acoustics::figures::figures;
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Driver, Enclosure, End, Load, Losses, Opening, PassiveRadiator, Port, SealedChamber,
    VentedChamber, Wiring, respond,
};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{
    Area, Compliance, ForceFactor, Inductance, Length, Mass, Resistance, UnitPrefs, Voltage, Volume,
};
use std::hint::black_box;

/// An invented 10 inch driver with a two-inductor coil.
fn driver() -> Driver {
    Driver {
        re: Resistance::from_ohms(3.3),
        coil: CoilImpedance::Lr2 {
            le: Inductance::from_millihenries(0.8),
            l2: Inductance::from_millihenries(1.9),
            r2: Resistance::from_ohms(4.7),
        },
        bl: ForceFactor::from_tesla_metres(12.5),
        mms: Mass::from_grams(125.0),
        cms: Compliance::from_millimetres_per_newton(0.25),
        rms_ns_m: 3.4,
        sd: Area::from_square_centimetres(330.0),
    }
}

/// 58 litres with a round port and every loss.
fn enclosure() -> Enclosure {
    Enclosure::Vented {
        rear: VentedChamber {
            volume: Volume::from_litres(58.0),
            losses: Losses { ql: Some(7.0), qa: Some(100.0) },
            port: Port {
                opening: Opening::Round { diameter: Length::from_millimetres(102.0) },
                length: Length::from_millimetres(364.3),
                inner: End::Free,
                outer: End::Flanged,
                count: 1,
                qp: Some(60.0),
            },
        },
    }
}

/// Each type with two drivers and every loss; the sizes are those of `ratios.py`.
fn every_type() -> Vec<(&'static str, Enclosure)> {
    let losses = Losses { ql: Some(7.0), qa: Some(100.0) };
    let sealed = |litres| SealedChamber { volume: Volume::from_litres(litres), losses };
    let vented = |litres, millimetres| VentedChamber {
        volume: Volume::from_litres(litres),
        losses,
        port: Port {
            opening: Opening::Round { diameter: Length::from_millimetres(102.0) },
            length: Length::from_millimetres(millimetres),
            inner: End::Free,
            outer: End::Flanged,
            count: 1,
            qp: Some(60.0),
        },
    };
    let radiator = PassiveRadiator {
        sd: Area::from_square_centimetres(480.0),
        mms: Mass::from_grams(400.0),
        cms: Compliance::from_millimetres_per_newton(0.4),
        rms_ns_m: 2.0,
        count: 2,
    };
    vec![
        ("infinite_baffle", Enclosure::InfiniteBaffle),
        ("closed", Enclosure::Closed { rear: sealed(40.0) }),
        ("vented", Enclosure::Vented { rear: vented(58.0, 364.3) }),
        ("passive_radiator", Enclosure::PassiveRadiator { rear: sealed(40.0), radiator }),
        ("bandpass4", Enclosure::Bandpass4 { rear: sealed(40.0), front: vented(30.0, 120.0) }),
        (
            "bandpass6_parallel",
            Enclosure::Bandpass6Parallel { rear: vented(58.0, 364.3), front: vented(30.0, 120.0) },
        ),
        (
            "bandpass6_series",
            Enclosure::Bandpass6Series { rear: vented(58.0, 364.3), front: vented(30.0, 120.0) },
        ),
        ("push_pull", Enclosure::PushPull { rear: sealed(20.0) }),
    ]
}

fn evaluate(c: &mut Criterion) {
    let frequencies = log_grid(10.0, 500.0, 240);
    let volts = Voltage::from_volts(25.0);
    c.bench_function("vented response at 240 frequencies", |b| {
        b.iter(|| {
            let network = enclosure().network(Load::single(black_box(driver())), Air::standard()).unwrap();
            respond(&network, volts, black_box(&frequencies)).unwrap()
        });
    });
    for (name, enclosure) in every_type() {
        c.bench_function(&format!("type {name} at 240 frequencies"), |b| {
            b.iter(|| {
                let load = Load { driver: black_box(driver()), wiring: Wiring::of_drivers(1, 2) };
                let network = enclosure.network(load, Air::standard()).unwrap();
                respond(&network, volts, black_box(&frequencies)).unwrap()
            });
        });
    }
    let network = enclosure().network(Load::single(driver()), Air::standard()).unwrap();
    let response = respond(&network, volts, &frequencies).unwrap();
    c.bench_function("key figures", |b| {
        b.iter(|| figures(black_box(&network), volts, black_box(&response)).unwrap());
    });
    let sheet = DataSheet {
        fs: Some(Printed::new(28.5, 0.05)),
        re_per_coil: Some(Printed::new(3.3, 0.05)),
        qes: Some(Printed::new(0.47, 0.005)),
        qms: Some(Printed::new(6.6, 0.05)),
        qts: Some(Printed::new(0.44, 0.005)),
        vas: Some(Printed::new(0.0386, 5e-5)),
        sd: Some(Printed::new(0.033, 5e-5)),
        mms: Some(Printed::new(0.125, 5e-4)),
        cms: Some(Printed::new(0.00025, 5e-6)),
        bl: Some(Printed::new(25.0, 0.05)),
        ..DataSheet::default()
    };
    c.bench_function("data sheet with a contradiction", |b| {
        b.iter(|| resolve(black_box(&sheet)).unwrap());
    });
}

/// The demo's driver behind a slot over the whole width of a deeper space.
fn vented_slot() -> Sheet {
    let mut sheet = demo::design().sheet;
    let entries = [
        (FieldId::BoxKind, "vented"),
        (FieldId::PortShape, "slot"),
        (FieldId::SlotHeight, "12"),
        (FieldId::SpaceDepth, "800"),
        (FieldId::WantedNet, "45"),
        (FieldId::WantedTuning, "38"),
        (FieldId::Strips, "none"),
    ];
    for (id, text) in entries {
        sheet.set(id, parse_entry(id, text, &UnitPrefs::default()).unwrap()).unwrap();
    }
    sheet
}

/// Everything a key stroke asks for: data sheet, wiring, box, curves at 240 frequencies, figures, feed, warnings.
fn whole_design(c: &mut Criterion) {
    for (name, sheet) in [("demo, closed", demo::design().sheet), ("vented slot", vented_slot())] {
        let report = evaluate_sheet(&sheet);
        assert!(
            report.enclosure.is_ok() && report.sound.is_ok() && report.feed.is_ok(),
            "{name}: {report:?}"
        );
        c.bench_function(&format!("whole design: {name}"), |b| b.iter(|| evaluate_sheet(black_box(&sheet))));
    }
}

criterion_group!(benches, evaluate, whole_design);
criterion_main!(benches);
