//! How long a whole plan takes, by brief.
#![allow(missing_docs, reason = "a benchmark has no public items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};

fn plans(c: &mut Criterion) {
    for (name, text) in [
        ("band, round, measured", include_str!("../briefs/band-round.json")),
        ("tape, V, drafted", include_str!("../briefs/tape-v.json")),
        ("facing, scoop, drafted", include_str!("../briefs/facing-scoop.json")),
        ("bound edge, scoop, drafted", include_str!("../briefs/bound-scoop.json")),
        ("band, sweetheart, drawn", include_str!("../briefs/band-sweetheart.json")),
    ] {
        let brief = lieflat::Brief::from_json(text).expect("a worked brief reads");
        c.bench_function(&format!("plan: {name}"), |b| b.iter(|| lieflat::plan(black_box(&brief))));
        let quick = format!("plan without ranges: {name}");
        c.bench_function(&quick, |b| b.iter(|| lieflat::plan_without_ranges(black_box(&brief))));
    }
}

criterion_group!(benches, plans);
criterion_main!(benches);
