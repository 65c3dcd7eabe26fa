//! How many candidates a search evaluates in a second: whole searches over every kind, on one and on two threads, each
//! candidate solved as its network at `POINTS` frequencies; and the network's solutions alone.
//!
//! `benches/search_ratio.py` runs this and sets it beside numpy's batched solve of the same matrices.
#[path = "../tests/support/brief.rs"]
mod support;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use kerf_and_coil::model::acoustics::search::{Bench, Brief, Candidate, Job, POINTS};
use kerf_and_coil::units::{Length, Volume};
use std::hint::black_box;
use support::brief;

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
