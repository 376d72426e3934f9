//! Photos with known truth, drawn here (`scene`), measured: lengths against closed forms.
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, missing_docs, reason = "a test's own drawing")]

mod scene;

use core::f64::consts::{FRAC_PI_2, PI};

use lieflat::brief::{Brief, Drawn, Outline};
use lieflat_photo::messages::{Doubt, Edge, Line, Place, Rectangle, Refused, Snap, Trace};
use lieflat_photo::{Photo, told_size};
use scene::Scene;

const A4_MM: [f64; 2] = [210.0, 297.0];

/// The half neckline of these pieces: 85 mm wide and 105 deep, or a round of 90.
const WIDE: f64 = 85.0;
const DEEP: f64 = 105.0;
const ROUND: f64 = 90.0;

/// The cloth outside an opening: right of the fold at x = 0, below the shoulder at y = 0, above a hem.
fn cloth(x: f64, y: f64, outside_opening: f64) -> f64 {
    x.min(y).min(240.0 - y).min(170.0 - x).min(outside_opening)
}

fn oval(x: f64, y: f64) -> f64 {
    let (u, v) = (x / WIDE, y / DEEP);
    let level = u.hypot(v);
    // To first order the distance from the edge.
    cloth(x, y, (level - 1.0) * level / (u / WIDE).hypot(v / DEEP).max(1e-9))
}

fn round(x: f64, y: f64) -> f64 {
    cloth(x, y, x.hypot(y) - ROUND)
}

fn square(x: f64, y: f64) -> f64 {
    cloth(x, y, (x - WIDE).max(y - DEEP))
}

fn nothing(_: f64, _: f64) -> f64 {
    -1e3
}

/// A seam line of half a millimetre, 12 mm in from a round edge.
fn seam(x: f64, y: f64) -> f64 {
    0.25 - (x.hypot(y) - ROUND - 12.0).abs()
}

/// An arc and its chord, both of 0.8 mm, from (110, 20) to (20, 110).
fn arc_and_chord(x: f64, y: f64) -> f64 {
    let arc = 0.4 - ((x - 20.0).hypot(y - 20.0) - 90.0).abs();
    let chord = 0.4 - ((x + y - 130.0) / 2.0_f64.sqrt()).abs();
    arc.max(chord).min(x - 19.0).min(y - 19.0)
}

/// Straight down on an A4 sheet to the left of a piece whose fold is at x = 0.
fn scene() -> Scene {
    Scene {
        size: [1200, 900],
        tilt_deg: 0.0,
        toward_deg: 0.0,
        bend: 0.0,
        target: [-40.0, 110.0],
        distance_mm: 400.0,
        sheet: ([-135.0, 110.0], A4_MM, 3.0),
        levels: [95.0, 200.0, 236.0],
        piece: oval,
        printed: nothing,
        grain: 2.5,
        seed: 1,
    }
}

/// A quarter of an ellipse's length: its longer half times the complete elliptic integral of the second kind, by the arithmetic
/// and geometric means (DLMF 19.8.6).
fn quarter_of_ellipse(a: f64, b: f64) -> f64 {
    let (long, short) = (a.max(b), a.min(b));
    let (mut mean, mut root) = (1.0, short / long);
    let mut sum = (1.0 - root * root) / 2.0;
    let mut power = 0.5;
    for _ in 0..12 {
        let half_off = (mean - root) / 2.0;
        (mean, root) = ((mean + root) / 2.0, (mean * root).sqrt());
        power *= 2.0;
        sum += power * half_off * half_off;
    }
    long * PI / (2.0 * mean) * (1.0 - sum)
}

/// Points as a person does: the rectangle's corners up to 4 px off, the ends up to 2 px and then snapped.
fn traced(scene: &Scene, photo: &mut Photo, asked: &Trace) -> Result<Edge, Refused> {
    photo.set(&scene.rectangle(4.0))?;
    let mut chance = scene::Chance(scene.seed * 2 + 5);
    let mut asked = asked.clone();
    for end in &mut asked.ends {
        let at = end.map(|v| v + 4.0 * chance.share() - 2.0);
        *end = photo.snap(Snap { at })?;
    }
    photo.trace(&asked)
}

fn holds(what: &str, edge: &Edge, length: f64, [width, depth]: [f64; 2], most: f64) {
    let off = edge.length_mm - length;
    assert!(off.abs() <= most, "{what}: {} mm long for {length}", edge.length_mm);
    assert!(off.abs() <= edge.uncertainty_mm, "{what}: {off} mm off is within the {} told", edge.uncertainty_mm);
    assert!(edge.uncertainty_mm <= 2.0, "{what}: {} mm are no use", edge.uncertainty_mm);
    assert!((edge.width_mm - width).abs() <= most, "{what}: {} mm wide for {width}", edge.width_mm);
    assert!((edge.depth_mm - depth).abs() <= most, "{what}: {} mm deep for {depth}", edge.depth_mm);
}

#[test]
fn an_ellipse_beside_a4_comes_out_as_its_closed_form_at_any_tilt() {
    let truth = quarter_of_ellipse(WIDE, DEEP);
    for (seed, (tilt_deg, toward_deg, bend)) in
        [(0.0, 0.0, 0.006), (16.0, 200.0, -0.008), (30.0, 70.0, 0.0)].into_iter().enumerate()
    {
        let scene = Scene { tilt_deg, toward_deg, bend, distance_mm: 440.0, seed: seed as u64 + 1, ..scene() };
        let mut photo = scene.photo();
        let found = photo.opened().corners.expect("the sheet lies by itself and is found");
        for (found, corner) in found.iter().zip(scene.corners_mm()) {
            let [x, y] = scene.seen(corner);
            let off = (found[0] - x).hypot(found[1] - y);
            assert!(off <= 3.0, "tilt {tilt_deg}: the corner at {x}, {y} is found at {found:?}");
        }
        let told = photo.set(&scene.rectangle(4.0)).expect("the sheet is seen");
        assert!((told.tilt_deg - tilt_deg).abs() <= 3.0, "{} degrees for {tilt_deg}", told.tilt_deg);
        let asked = scene.trace([WIDE, 0.0], [0.0, DEEP], Line::Cut);
        let edge = traced(&scene, &mut photo, &asked).expect("the edge is seen");
        holds(&format!("tilt {tilt_deg}"), &edge, truth, [WIDE, DEEP], 0.8);
        over_the_edge(&scene, &edge);
        core_takes(&edge);
    }
}

/// Every place of the line over the photo is within two pixels of the ellipse as the camera saw it.
fn over_the_edge(scene: &Scene, edge: &Edge) {
    let seen: Vec<Place> = (0..=900)
        .map(|index| FRAC_PI_2 * f64::from(index) / 900.0)
        .map(|turn| scene.seen([WIDE * turn.cos(), DEEP * turn.sin()]))
        .collect();
    for [x, y] in &edge.over_photo {
        let off = seen.iter().map(|p| (p[0] - x).hypot(p[1] - y)).fold(f64::INFINITY, f64::min);
        assert!(off <= 1.5, "{x}, {y} is {off} px beside the edge");
    }
}

/// The core reads the path as a drawn half, and plans.
fn core_takes(edge: &Edge) {
    let text = include_str!("../../../../tests/briefs/band-sweetheart.json");
    let mut brief = Brief::from_json(text).expect("a worked brief reads");
    brief.neckline.front.outline = Outline::Drawn(Drawn { path_mm: edge.path_mm.clone(), uncertainty_mm: None });
    let told = lieflat::told(&brief).expect("the core takes the path as it is");
    let off = told.front.half_length_mm - edge.length_mm;
    assert!(off.abs() < 0.01, "the core reads {} mm of {}", told.front.half_length_mm, edge.length_mm);
}

#[test]
fn a_bank_card_will_do() {
    let scene = Scene {
        size: [1600, 1200],
        tilt_deg: 12.0,
        toward_deg: 130.0,
        target: [10.0, 70.0],
        distance_mm: 290.0,
        // As thin as paper here: its true thickness is tried by the proof.
        sheet: ([-60.0, 40.0], [85.3, 54.3], -4.0),
        ..scene()
    };
    let mut photo = scene.photo();
    let asked = scene.trace([WIDE, 0.0], [0.0, DEEP], Line::Cut);
    let edge = traced(&scene, &mut photo, &asked).expect("the edge is seen");
    holds("card", &edge, quarter_of_ellipse(WIDE, DEEP), [WIDE, DEEP], 1.0);
}

#[test]
fn a_square_neckline_keeps_its_corner() {
    let scene = Scene { piece: square, tilt_deg: 10.0, toward_deg: 300.0, ..scene() };
    let mut photo = scene.photo();
    let asked = scene.trace([WIDE, 0.0], [0.0, DEEP], Line::Cut);
    let edge = traced(&scene, &mut photo, &asked).expect("the edge is seen");
    holds("square", &edge, WIDE + DEEP, [WIDE, DEEP], 0.8);
}

#[test]
fn a_cut_edge_and_the_seam_line_printed_in_it_are_told_apart() {
    let scene = Scene { piece: round, printed: seam, distance_mm: 420.0, tilt_deg: 8.0, ..scene() };
    let mut photo = scene.photo();
    let cut = scene.trace([ROUND, 0.0], [0.0, ROUND], Line::Cut);
    let edge = traced(&scene, &mut photo, &cut).expect("the edge is seen");
    holds("cut", &edge, FRAC_PI_2 * ROUND, [ROUND; 2], 0.8);
    let inner = ROUND + 12.0;
    let line = scene.trace([inner, 0.0], [0.0, inner], Line::Line);
    let edge = traced(&scene, &mut photo, &line).expect("the line is seen");
    holds("line", &edge, FRAC_PI_2 * inner, [inner; 2], 0.8);
}

#[test]
fn a_line_goes_where_it_is_pulled() {
    let scene = Scene { printed: arc_and_chord, piece: |x, y| cloth(x, y, 1e3), ..scene() };
    let mut photo = scene.photo();
    photo.set(&scene.rectangle(3.0)).expect("the sheet is seen");
    let mut asked = scene.trace([110.0, 20.0], [20.0, 110.0], Line::Line);
    let chord = photo.trace(&asked).expect("the chord is seen");
    holds("chord", &chord, 90.0 * 2.0_f64.sqrt(), [90.0; 2], 0.8);
    let half = 90.0 * 0.5_f64.sqrt();
    asked.via = vec![scene.seen([20.0 + half, 20.0 + half])];
    let arc = photo.trace(&asked).expect("the arc is seen");
    holds("arc", &arc, 90.0 * FRAC_PI_2, [90.0; 2], 0.8);
}

#[test]
fn paper_too_little_off_its_ground_gives_no_figure() {
    for (off, refused) in [(12.0, true), (22.0, true), (70.0, false)] {
        let scene = Scene { levels: [110.0, 110.0 + off, 236.0], piece: round, printed: seam, ..scene() };
        let mut photo = scene.photo();
        photo.set(&scene.rectangle(3.0)).expect("the sheet is seen");
        let answer = photo.trace(&scene.trace([ROUND, 0.0], [0.0, ROUND], Line::Cut));
        match answer {
            Err(Refused::TooFaint { contrast_levels, least_levels }) => {
                assert!(refused, "{off} levels are enough");
                assert!(contrast_levels < least_levels, "{contrast_levels} is under {least_levels}");
            }
            Err(Refused::EdgeLost { .. }) => assert!(refused, "{off} levels are enough"),
            Ok(edge) => {
                assert!(!refused, "{off} levels give {edge:?}");
                assert!(edge.contrast_levels < 75.0, "{} levels of {off}", edge.contrast_levels);
            }
            other => panic!("{off} levels: {other:?}"),
        }
    }
}

#[test]
fn what_cannot_be_trusted_is_refused_with_its_code() {
    let scene = scene();
    let mut photo = scene.photo();
    let asked = scene.trace([WIDE, 0.0], [0.0, DEEP], Line::Cut);
    assert_eq!(photo.trace(&asked), Err(Refused::NoRectangle), "nothing is in mm yet");
    let good = scene.rectangle(2.0);
    let with = |act: &dyn Fn(&mut Rectangle)| {
        let mut other = good.clone();
        act(&mut other);
        other
    };
    let mut refused = |rectangle: Rectangle| photo.set(&rectangle).expect_err("no such rectangle is gone by");
    let corner = |index: usize, place: Place| with(&move |r| r.corners[index] = place);
    assert_eq!(refused(corner(0, [f64::NAN, 3.0])), Refused::PlaceOutside { what: "corners" }, "no number");
    assert_eq!(refused(corner(2, [1300.0, 3.0])), Refused::PlaceOutside { what: "corners" }, "outside");
    assert_eq!(refused(with(&|r| r.corners.swap(0, 1))), Refused::NotFourCornered, "sides cross");
    assert_eq!(refused(with(&|r| r.corners[1] = r.corners[0])), Refused::NotFourCornered, "two are one");
    assert_eq!(
        refused(with(&|r| r.corners = [[100.0, 100.0], [300.0, 100.0], [500.0, 100.0], [300.0, 400.0]])),
        Refused::NotFourCornered,
        "on a line"
    );
    for (mm, found_mm) in [(f64::NAN, None), (-5.0, Some(-5.0)), (1e9, Some(1e9))] {
        let said = refused(with(&|r| r.height_mm = mm));
        assert_eq!(said, Refused::RectangleSize { found_mm, least_mm: 20.0, most_mm: 2000.0 }, "{mm} mm");
    }
    assert!(matches!(refused(with(&|r| r.height_mm = 210.0)), Refused::OtherProportions { .. }), "A4 is no square");
    assert!(
        matches!(
            refused(with(&|r| {
                r.width_mm = 700.0;
                r.height_mm = 990.0;
            })),
            Refused::TooCoarse { .. }
        ),
        "1.2 mm and more a pixel"
    );
    let tiny = with(&|r| r.corners = [[100.0, 100.0], [140.0, 100.0], [140.0, 150.0], [100.0, 150.0]]);
    assert!(matches!(refused(tiny), Refused::RectangleTiny { .. }), "40 px");

    photo.set(&good).expect("the sheet is seen");
    let traced = |act: &dyn Fn(&mut Trace)| {
        let mut other = asked.clone();
        act(&mut other);
        photo.trace(&other).expect_err("no figure comes of this")
    };
    assert_eq!(traced(&|t| t.ends[0] = [f64::INFINITY, 0.0]), Refused::PlaceOutside { what: "ends" }, "no number");
    assert_eq!(traced(&|t| t.down = [-20.0, 0.0]), Refused::PlaceOutside { what: "down" }, "outside");
    assert_eq!(traced(&|t| t.via = vec![[5e9, 0.0]]), Refused::PlaceOutside { what: "via" }, "outside");
    assert_eq!(traced(&|t| t.via = vec![[5.0, 5.0]; 21]), Refused::TooManyVia { most: 20 }, "21");
    assert!(matches!(traced(&|t| t.ends[0] = [t.ends[1][0] + 20.0, t.ends[1][1]]), Refused::EndsNear { .. }), "9 mm");
    assert!(matches!(traced(&|t| t.down = [t.ends[1][0], t.ends[1][1] + 20.0]), Refused::DownNear { .. }), "9 mm");
    assert!(matches!(traced(&|t| t.ends.swap(0, 1)), Refused::NotCentreToNeck { .. }), "the other way round");
    // From the neck point across blank cloth.
    let blank = traced(&|t| t.ends = [scene.seen([150.0, 60.0]), scene.seen([0.0, 120.0])]);
    assert!(matches!(blank, Refused::TooFaint { .. } | Refused::EdgeLost { .. } | Refused::EndOff { .. }), "{blank:?}");
}

#[test]
fn a_camera_that_looks_far_aside_is_refused_and_one_that_looks_a_little_is_doubted() {
    let mut scene = Scene { tilt_deg: 58.0, toward_deg: 95.0, distance_mm: 560.0, ..scene() };
    let refused = scene.photo().set(&scene.rectangle(2.0)).expect_err("58 degrees are too many");
    assert!(matches!(refused, Refused::TooTilted { tilt_deg, .. } if (tilt_deg - 58.0).abs() < 4.0), "{refused:?}");
    scene.tilt_deg = 38.0;
    let set = scene.photo().set(&scene.rectangle(2.0)).expect("38 degrees can be measured");
    assert!(set.doubts.contains(&Doubt::Tilted), "{:?}", set.doubts);
}

#[test]
fn a_small_photo_and_bytes_that_are_no_photo_are_refused() {
    let small = Photo::open(799, 600, &vec![0; 799 * 600 * 4]).expect_err("799 px are too few");
    assert_eq!(small, Refused::PhotoSmall { longest_px: 799, least_px: 800 }, "the longest side counts");
    assert_eq!(Photo::open(900, 600, &[0; 7]).expect_err("7 bytes"), Refused::NotAPicture, "sizes belong together");
    assert_eq!(Photo::open(4000, 1, &vec![0; 16_000]).expect_err("4000 px"), Refused::NotAPicture, "reduced before");
}

#[test]
fn a_photo_of_nothing_gives_nothing() {
    for level in [0_u8, 128, 255] {
        let mut photo = Photo::open(900, 700, &vec![level; 900 * 700 * 4]).expect("it opens");
        assert_eq!(photo.opened().corners, None, "no sheet in plain {level}");
        let corners = [[100.0, 100.0], [400.0, 110.0], [390.0, 500.0], [110.0, 510.0]];
        // Told corners are gone by where no side is seen, with a doubt; but no edge is made up.
        let set = photo.set(&Rectangle { corners, width_mm: 210.0, height_mm: 297.0 }).expect("corners are told");
        assert!(set.doubts.contains(&Doubt::SidesUnseen), "{:?}", set.doubts);
        let asked =
            Trace { ends: [[600.0, 200.0], [450.0, 350.0]], down: [450.0, 600.0], via: vec![], edge: Line::Cut };
        let refused = photo.trace(&asked).expect_err("nothing is there");
        assert!(matches!(refused, Refused::TooFaint { .. } | Refused::EdgeLost { .. }), "{refused:?}");
        assert_eq!(photo.snap(Snap { at: [300.0, 300.0] }), Ok([300.0, 300.0]), "nothing to snap to");
    }
}

#[test]
fn any_pixels_and_places_are_measured_or_refused() {
    let mut chance = scene::Chance(20_261_127);
    let (mut measured, mut refused) = (0, 0);
    for round in 0..30 {
        let (width, height) = (800_u32, 24 + 10 * (round % 9));
        let rgba = patches(&mut chance, width as usize, height as usize, round % 5 == 0);
        let mut photo = Photo::open(width, height, &rgba).expect("it is large enough");
        let offered = photo.opened().corners;
        for _ in 0..4 {
            let wild = [f64::NAN, f64::INFINITY, -1.0, 1e300, 799.4, 0.0];
            let mut place = || {
                let any = |share: f64, most: u32| share * f64::from(most);
                let at = [any(chance.share(), width), any(chance.share(), height)];
                let odd = wild[(chance.share() * 6.0) as usize];
                if chance.share() < 0.04 { [odd, at[1]] } else { at }
            };
            let corners = offered.unwrap_or_else(|| [place(), place(), place(), place()]);
            let _ = photo.set(&Rectangle { corners, width_mm: 210.0, height_mm: 297.0 });
            let _ = photo.set(&Rectangle { corners, width_mm: 90.0, height_mm: 60.0 });
            let ends = [place(), place()].map(|at| photo.snap(Snap { at }).unwrap_or(at));
            let edge = if round % 2 == 0 { Line::Cut } else { Line::Line };
            match photo.trace(&Trace { ends, down: place(), via: vec![place()], edge }) {
                Ok(edge) => {
                    let straight = edge.width_mm.hypot(edge.depth_mm);
                    assert!(edge.length_mm >= straight - 0.01, "no line is shorter than straight: {edge:?}");
                    assert!(edge.uncertainty_mm.is_finite() && edge.uncertainty_mm > 0.0, "{edge:?}");
                    measured += 1;
                }
                Err(_) => refused += 1,
            }
        }
    }
    assert_eq!(measured + refused, 120, "each is answered");
    assert!(refused > 100, "of places by chance few lie on an edge: {measured} measured");
}

/// Four-cornered patches over each other, or noise alone.
fn patches(chance: &mut scene::Chance, width: usize, height: usize, noise: bool) -> Vec<u8> {
    let mut grey = vec![90_u8; width * height];
    for _ in 0..if noise { 0 } else { 6 } {
        let mut two = |most: usize| {
            let (a, b) = ((chance.share() * most as f64) as usize, (chance.share() * most as f64) as usize);
            (a.min(b), a.max(b))
        };
        let ((left, right), (top, bottom)) = (two(width), two(height));
        let level = (chance.share() * 255.0) as u8;
        for row in top..bottom {
            grey[row * width + left..row * width + right].fill(level);
        }
    }
    let most = if noise { 255.0 } else { 5.0 };
    grey.iter().flat_map(|level| [level.saturating_add((chance.share() * most) as u8); 4]).collect()
}

/// Written by hand from the two standards: PNG's signature and IHDR; a JPEG's APP0 and a progressive frame after it.
#[test]
fn sizes_are_read_from_a_files_head() {
    let png = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x9c\x40\0\0\x75\x30\x08\x02\0\0\0";
    assert_eq!(told_size(png), Some((40_000, 30_000)), "PNG");
    let jpeg = b"\xff\xd8\xff\xe0\0\x06JF\0\0\xff\xff\xc2\0\x11\x08\x0b\xb8\x0f\xa0\x03";
    assert_eq!(told_size(jpeg), Some((4000, 3000)), "JPEG");
    for length in 0..jpeg.len() - 1 {
        assert_eq!(told_size(&jpeg[..length.min(18)]), None, "cut short at {length}");
    }
    assert_eq!(told_size(b"\xff\xd8\xff\xe0\0\0\0\0"), None, "a segment of no length");
    assert_eq!(told_size(b"GIF89a"), None, "another kind");
}
