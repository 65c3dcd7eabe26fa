//! How many candidates a search evaluates in a second: whole searches over every kind, on one and on two threads, each
//! candidate solved as its network at `POINTS` frequencies; and the network's solutions alone.
//!
//! `benches/search_ratio.py` runs this and sets it beside numpy's batched solve of the same matrices.
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use kerf_and_coil::model::acoustics::search::{
    Band, Bench, Brief, Candidate, Job, Kind, Limits, POINTS, RadiatorUnit, Room, Tube, Weights,
};
use kerf_and_coil::model::acoustics::{Air, CoilImpedance, Driver, Load, Losses, PassiveRadiator};
use kerf_and_coil::units::{
    Area, Compliance, Current, ForceFactor, Frequency, Inductance, Length, Mass, Power, Resistance, Voltage,
    Volume,
};
use std::hint::black_box;

/// An invented 10 inch driver, a boot, four pipes and an invented passive radiator.
fn brief() -> Brief {
    let mm = Length::from_millimetres;
    let tube = |inside, count| Tube { inside: mm(inside), wall: mm(3.0), count };
    Brief {
        load: Load::single(Driver {
            re: Resistance::from_ohms(3.3),
            coil: CoilImpedance::L { le: Inductance::from_millihenries(1.5) },
            bl: ForceFactor::from_tesla_metres(12.5),
            mms: Mass::from_grams(125.0),
            cms: Compliance::from_millimetres_per_newton(0.25),
            rms_ns_m: 3.4,
            sd: Area::from_square_centimetres(330.0),
        }),
        air: Air::standard(),
        source_resistance: Resistance::from_ohms(0.05),
        limits: Limits {
            voltage: Voltage::from_volts(32.0),
            current: Some(Current::from_amperes(20.0)),
            coil_power: Some(Power::from_watts(300.0)),
            travel: Some(mm(14.0)),
            port_speed_m_s: 17.0,
        },
        room: Room {
            width: mm(800.0),
            height: mm(380.0),
            depth: mm(420.0),
            board: mm(18.0),
            front_layers: 2,
            frame: mm(262.0),
            driver_depth: mm(150.0),
            drivers: 1,
            edges: [mm(0.0); 2],
            displaced: Volume::from_litres(2.5),
        },
        losses: Losses { ql: Some(10.0), qa: Some(50.0) },
        port_loss: Some(60.0),
        kinds: Kind::ALL.to_vec(),
        tubes: vec![tube(75.0, 1), tube(100.0, 1), tube(75.0, 2), tube(100.0, 2)],
        radiator: Some(RadiatorUnit {
            radiator: PassiveRadiator {
                sd: Area::from_square_centimetres(340.0),
                mms: Mass::from_grams(120.0),
                cms: Compliance::from_millimetres_per_newton(0.3),
                rms_ns_m: 3.0,
                count: 2,
            },
            frame: mm(265.0),
            travel: Some(mm(18.0)),
        }),
        band: Band { low: Frequency::from_hertz(30.0), top: Frequency::from_hertz(80.0) },
        weights: Weights { reach: 1.0, level: 1.0, evenness: 1.0, size: 1.0, decay: 1.0 },
    }
}

/// Fitting vented and band-pass boxes, the dearest kinds.
fn candidates(brief: &Brief) -> Vec<Candidate> {
    let mut all = Vec::new();
    for step in 0..2000 {
        let litres = 25.0 + 0.02 * f64::from(step);
        let tube = brief.tubes[step as usize % brief.tubes.len()];
        let length = Length::from_millimetres(60.0 + f64::from(step % 200));
        let volume = Volume::from_litres(litres);
        all.extend(Candidate::vented(brief, volume, tube, length));
        all.extend(Candidate::bandpass(brief, volume * 0.6, volume * 0.4, tube, length));
    }
    all
}

/// Merits of all candidates, shared out over `threads`.
fn evaluate(brief: &Brief, bench: &Bench, candidates: &[Candidate], threads: usize) -> f64 {
    let share = candidates.len().div_ceil(threads);
    let merits = |part: &[Candidate]| -> f64 {
        part.iter().filter_map(|candidate| bench.merit(brief, black_box(candidate))).map(|m| m.score).sum()
    };
    if threads == 1 {
        return merits(candidates);
    }
    std::thread::scope(|scope| {
        let parts: Vec<_> = candidates.chunks(share).map(|part| scope.spawn(move || merits(part))).collect();
        parts.into_iter().map(|part| part.join().unwrap()).sum()
    })
}

fn search(c: &mut Criterion) {
    let brief = brief();
    let bench = Bench::new(&brief).unwrap();
    let all = candidates(&brief);
    assert!(all.len() > 1000 && POINTS == 32, "{}", all.len());
    let mut group = c.benchmark_group("candidates");
    group.throughput(Throughput::Elements(all.len() as u64));
    for threads in [1, 2] {
        group.bench_with_input(BenchmarkId::new("threads", threads), &threads, |b, threads| {
            b.iter(|| evaluate(&brief, &bench, &all, *threads));
        });
    }
    group.finish();
    let evaluations = Job::run(brief.clone()).unwrap().evaluations;
    let mut group = c.benchmark_group("whole search");
    group.throughput(Throughput::Elements(evaluations)).sample_size(20);
    group.bench_function("one thread", |b| b.iter(|| Job::run(black_box(brief.clone())).unwrap()));
    group.throughput(Throughput::Elements(2 * evaluations));
    group.bench_function("two searches on two threads", |b| {
        b.iter(|| {
            std::thread::scope(|scope| {
                let jobs = [(); 2].map(|()| scope.spawn(|| Job::run(black_box(brief.clone())).unwrap()));
                jobs.map(|job| job.join().unwrap().evaluations)
            })
        });
    });
    group.finish();
}

criterion_group!(benches, search);
criterion_main!(benches);
