//! How many candidates a search evaluates in a second: fitting boxes of each kind on one thread, of all kinds together on
//! one and on two, each solved as its network at `POINTS` frequencies; whole searches; and coils that share unequally.
//!
//! `benches/search_ratio.py` runs this and sets it beside numpy's batched solve of the same matrices.
#[path = "../tests/support/brief.rs"]
mod support;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use kerf_and_coil::model::acoustics::search::{Bench, Brief, Candidate, Job, Kind, POINTS};
use kerf_and_coil::model::acoustics::{Load, stand_in};
use kerf_and_coil::model::electrical::wiring::Tree;
use kerf_and_coil::units::{Length, Mass, Volume};
use std::hint::black_box;
use support::brief;

/// Room for every kind.
fn roomy() -> Brief {
    let mut brief = brief();
    brief.room.depth = Length::from_millimetres(480.0);
    brief
}

/// Fitting boxes of a kind.
fn of_kind(brief: &Brief, kind: Kind) -> Vec<Candidate> {
    let candidate = |step: u32| {
        let volume = Volume::from_litres(40.0 + 0.02 * f64::from(step));
        let tube = brief.tubes[step as usize % brief.tubes.len()];
        let length = Length::from_millimetres(90.0 + f64::from(step % 200));
        let halves = [volume * 0.6, volume * 0.4];
        match kind {
            Kind::Closed => Candidate::closed(brief, volume),
            Kind::Vented => Candidate::vented(brief, volume, tube, length),
            Kind::PassiveRadiator => {
                Candidate::with_radiators(brief, volume, 1, Mass::from_grams(f64::from(step % 200)))
            }
            Kind::Bandpass => Candidate::bandpass(brief, halves[0], halves[1], tube, length),
            Kind::Bandpass6Outward | Kind::Bandpass6Inward => {
                let pipe = brief.tubes[0];
                Candidate::bandpass6(brief, kind, halves, [(pipe, length), (pipe, length * 0.8)])
            }
        }
    };
    let all: Vec<Candidate> = (0..1500).filter_map(candidate).collect();
    assert!(all.len() > 200, "{kind:?}: {}", all.len());
    all.into_iter().cycle().take(1000).collect()
}

/// As many of each kind.
fn candidates(brief: &Brief) -> Vec<Candidate> {
    let kinds: Vec<Vec<Candidate>> = Kind::ALL.iter().map(|kind| of_kind(brief, *kind)).collect();
    // Kinds take turns, so that threads have alike shares.
    (0..1000).flat_map(|index| kinds.iter().filter_map(move |kind| kind.get(index).copied())).collect()
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
    let brief = roomy();
    let bench = Bench::new(&brief).unwrap();
    let mut group = c.benchmark_group("kind");
    for kind in Kind::ALL {
        let all = of_kind(&brief, kind);
        group.throughput(Throughput::Elements(all.len() as u64));
        group.bench_function(format!("{kind:?}"), |b| b.iter(|| evaluate(&brief, &bench, &all, 1)));
    }
    group.finish();
    let all = candidates(&brief);
    assert!(all.len() > 1000 && POINTS == 32, "{}", all.len());
    let mut group = c.benchmark_group("candidates");
    group.throughput(Throughput::Elements(all.len() as u64));
    for threads in [1, 2] {
        group.bench_with_input(BenchmarkId::new("threads", threads), &threads, |b, threads| {
            b.iter(|| evaluate(&brief, &bench, &all, *threads));
        });
    }
    // One driver in series with two side by side.
    let tree: Tree = "1A-(2A|3A)".parse().unwrap();
    let load = Load { wiring: stand_in(&tree, 3, 1).unwrap(), ..brief.load };
    let unequal = Brief { load, unequal: Some(tree), ..brief.clone() };
    let shares = Bench::new(&unequal).unwrap();
    group.bench_function("unequal shares, two threads", |b| b.iter(|| evaluate(&unequal, &shares, &all, 2)));
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
