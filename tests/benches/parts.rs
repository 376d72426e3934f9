//! How long the parts of a plan take, by briefs that isolate them: differences between two of them are a part's cost.
#![allow(missing_docs, reason = "a benchmark has no public items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lieflat::brief::{ReadingsAt, ShapeKind};
use lieflat_tests::{band, brief, drafted, facing, plain};

fn parts(c: &mut Criterion) {
    let half = || drafted(95.0, 110.0, plain(ShapeKind::Scoop));
    let moved = brief(half(), half(), 10.0);
    let mut known = moved.clone();
    known.neckline.readings_at = ReadingsAt::SeamLine;
    let mut faced = moved.clone();
    faced.finish = facing(55.0);
    let mut wide = moved.clone();
    wide.finish = band(60.0);
    c.bench_function("outline: both halves told", |b| b.iter(|| lieflat::told(black_box(&moved))));
    for (name, brief) in [
        ("strip on the known line", &known),
        ("offset and strip", &moved),
        ("offset and facing", &faced),
        ("offset, strip that stands away and its cures", &wide),
    ] {
        c.bench_function(name, |b| b.iter(|| lieflat::plan_without_ranges(black_box(brief))));
        c.bench_function(&format!("{name}, with ranges"), |b| b.iter(|| lieflat::plan(black_box(brief))));
    }
}

criterion_group!(benches, parts);
criterion_main!(benches);
