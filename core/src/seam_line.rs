//! From the known line to the seam line: moved to the garment side, trimmed at shoulder and centre.

mod line;
mod loops;
mod moved;
mod node;
mod pieces;

pub(crate) use line::{CORNER, Line};
pub(crate) use moved::{Outside, TakeOff, largest, self_crossing};
pub(crate) use node::{Bend, Node, points};
pub(crate) use pieces::MoveError;

#[cfg(test)]
mod tests {
    use core::f64::consts::FRAC_PI_2;

    use super::{Line, TakeOff, largest, self_crossing};
    use crate::curve::{Arc, straight};
    use crate::error::Problem;
    use kurbo::{CubicBez, Point};

    const K: f64 = 0.552_284_749_830_793_5;

    fn quarter(radius: f64) -> Arc {
        let (r, k) = (radius, K * radius);
        Arc::new(CubicBez::new((0.0, r), (k, r), (r, k), (r, 0.0)))
    }

    fn through(points: &[(f64, f64)]) -> Vec<Arc> {
        let ends = points.iter().zip(points.iter().skip(1));
        ends.map(|(a, b)| Arc::new(straight(Point::new(a.0, a.1), Point::new(b.0, b.1)))).collect()
    }

    fn by(neckline: f64) -> TakeOff {
        TakeOff { neckline, centre: 0.0, shoulder: 0.0, slope: 0.0 }
    }

    fn close(got: f64, expected: f64, within: f64, what: &str) {
        assert!((got - expected).abs() <= within, "{what}: {got} is not {expected}");
    }

    /// The length along points, and whether their chords cross each other.
    fn along(points: &[[f64; 2]]) -> (f64, bool) {
        let chords: Vec<[[f64; 2]; 2]> = points.windows(2).map(|pair| [pair[0], pair[1]]).collect();
        let length = chords.iter().map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).sum();
        let side = |[a, b]: [[f64; 2]; 2], p: [f64; 2]| (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
        let apart = |one: [[f64; 2]; 2], other: [[f64; 2]; 2]| side(one, other[0]) * side(one, other[1]) < 0.0;
        let crosses = |i: usize, one: &[[f64; 2]; 2]| {
            chords.iter().skip(i + 2).any(|other| apart(*one, *other) && apart(*other, *one))
        };
        (length, chords.iter().enumerate().any(|(i, one)| crosses(i, one)))
    }

    #[test]
    fn places_between_nodes_lie_on_the_curve_and_run_along_it() {
        let line = Line::as_known(&[quarter(100.0)], 0.0);
        for i in 0..=50 {
            let s = line.length() * f64::from(i) / 50.0;
            let (at, direction) = line.place(s).expect("a place");
            close(at.to_vec2().hypot(), 100.0, 0.05, "on the circle");
            close(direction.hypot(), 1.0, 1e-12, "a direction has a length of one");
            close(at.x.atan2(at.y), s / 100.0, 1e-3, "as far along as was asked");
            close(-direction.y.atan2(direction.x), s / 100.0, 2e-3, "and turned as far");
        }
        let (end, _) = line.place(1000.0).expect("a place");
        close((end - Point::new(100.0, 0.0)).hypot(), 0.0, 1e-9, "the end lies at the end");
    }

    #[test]
    fn points_to_draw_stand_off_by_less_than_a_tenth() {
        let line = Line::moved(&[quarter(100.0)], by(20.0)).expect("it moves");
        for pair in line.points().windows(2) {
            let middle = [0.5 * (pair[0][0] + pair[1][0]), 0.5 * (pair[0][1] + pair[1][1])];
            close(middle[0].hypot(middle[1]), 120.0, 0.1, "a chord's middle");
        }
        // A straight line wants no points in between: its nodes alone.
        let straight = Line::as_known(&through(&[(0.0, 100.0), (90.0, 100.0)]), 0.0);
        assert_eq!(straight.points().len(), straight.nodes.len(), "a straight line has its nodes' points");
        // Nor where a bend came before it, whose every step of 11 degrees wants three.
        let after = Arc::new(CubicBez::new((100.0, 0.0), (100.0, -30.0), (100.0, -60.0), (100.0, -90.0)));
        let both = Line::as_known(&[quarter(100.0), after], 0.0);
        assert_eq!(both.points().len(), both.nodes.len() + 3 * 8, "more points in the bend alone");
    }

    #[test]
    fn a_single_curve_set_back_past_its_radius_has_its_loop_cut_out() {
        // Its handles meet in the corner: by hand the radius in the middle is 25 mm, far under the 45 it is moved.
        let arc = Arc::new(CubicBez::new((0.0, 100.0), (88.0, 100.0), (88.0, 100.0), (88.0, 0.0)));
        let line = Line::moved_with_loops(&[arc], by(-45.0)).expect("it moves");
        assert!(along(&line.points()).1, "the moved line crosses itself");
        let (points, length) = line.without_loops();
        let (drawn, crosses) = along(&points);
        assert!(!crosses, "and is drawn without its loop");
        close(length, drawn, 0.1, "as long as it is drawn");
        // What lies before and after the loop stays: where it is left is on the chord that followed.
        let all = line.points();
        let i = points.iter().zip(&all).position(|(kept, was)| kept != was).expect("a loop is gone");
        let [a, met, b] = [all[i - 1], points[i], all[i]];
        let aside = (b[0] - a[0]) * (met[1] - a[1]) - (b[1] - a[1]) * (met[0] - a[0]);
        close(aside / (b[0] - a[0]).hypot(b[1] - a[1]), 0.0, 1e-9, "on its chord");
        assert!(all.ends_with(&points[i + 1..]), "and the rest as it was");
        // Within its radius nothing is cut out.
        let line = Line::moved_with_loops(&[arc], by(-10.0)).expect("it moves");
        let (points, length) = line.without_loops();
        assert_eq!(points, line.points(), "all of it");
        close(length, line.length(), 1e-12, "and its whole length");
    }

    #[test]
    fn an_edge_in_a_corner_is_set_back_to_where_its_sides_meet() {
        // A corner that points into the garment, its sides moved 30 mm toward the opening: they meet 30 mm in.
        let corner = through(&[(0.0, 100.0), (90.0, 100.0), (90.0, 0.0)]);
        let line = Line::moved_with_loops(&corner, by(-30.0)).expect("it moves");
        close(line.without_loops().1, 60.0 + 70.0, 1e-9, "what is left of 90 and 100");
    }

    #[test]
    fn corners_are_mitred_on_the_one_side_and_trimmed_on_the_other() {
        // Down a step of 20 mm on the way out: one corner opens, the other closes. Each takes or gives d tan(45).
        let step = through(&[(0.0, 100.0), (40.0, 100.0), (40.0, 120.0), (90.0, 120.0), (90.0, 0.0)]);
        let line = Line::moved(&step, by(5.0)).expect("it moves");
        let lengths = (40.0 - 5.0) + 20.0 + (50.0 + 5.0 + 5.0) + (120.0 + 5.0);
        close(line.length(), lengths, 1e-9, "its sides moved by 5 mm");
        close(line.turning(), FRAC_PI_2, 1e-9, "the turns of a step cancel");
        // A corner all but straight, moved past what can be seen, is cut back by its share.
        let slight = through(&[(0.0, 100.0), (50.0, 100.0), (100.0, 100.02), (100.0, 0.0)]);
        let line = Line::moved(&slight, by(10.0)).expect("it moves");
        close(line.length(), 100.0 + 10.0 + 100.0 + 10.0, 0.05, "as if it were straight");
    }

    #[test]
    fn a_slight_corner_beside_a_tight_bend_is_cut_back_by_its_share() {
        // A bend away of 12 mm moved by 10 ends on 2 mm; past a corner of half a thousandth the two moved lines pass beside
        // each other without meeting. By Steiner's formula the length changes by the distance times the turning.
        let tau = 5e-4_f64;
        let (bend, k) = (12.0, K * 12.0);
        let arc = Arc::new(CubicBez::new((0.0, 50.0), (k, 50.0), (bend, 62.0 - k), (bend, 62.0)));
        let end = Point::new(bend - 80.0 * tau.sin(), 62.0 + 80.0 * tau.cos());
        let arcs = [arc, Arc::new(straight(Point::new(bend, 62.0), end))];
        let known = Line::as_known(&arcs, 0.0);
        close(known.turning(), -FRAC_PI_2 - tau, 1e-9, "it bends away");
        // The shoulder lies square to the end.
        let off = TakeOff { slope: core::f64::consts::PI + tau, ..by(10.0) };
        let line = Line::moved(&arcs, off).expect("it moves");
        close(line.length(), known.length() + 10.0 * known.turning(), 1e-5, "Steiner's formula");
        let [front, back] = [arcs[0], arcs[1]].map(|arc| arc.length(0.0, 1.0, 16));
        close(front + back, known.length(), 1e-6, "the known line by quadrature");
        // An arc shorter than what a slight corner takes off it leaves no place to meet, on either side of the corner.
        for points in
            [[(0.0, 100.0), (50.0, 100.0), (50.02, 100.0 + 1.8e-5)], [(0.0, 100.0), (0.02, 100.0), (90.0, 100.08)]]
        {
            let failed = Line::moved(&through(&points), by(60.0)).expect_err("shorter than the overlap").0;
            assert!(matches!(failed, Problem::CrossesAt { .. }), "{failed:?}");
        }
    }

    #[test]
    fn a_side_shorter_than_its_corner_takes_crosses() {
        // A corner of a right angle that closes takes the distance off each of its sides: here one has 3 of the 5 mm.
        for side in [
            [(0.0, 100.0), (40.0, 100.0), (40.0, 103.0), (90.0, 103.0), (90.0, 0.0)],
            [(0.0, 100.0), (3.0, 100.0), (3.0, 140.0), (90.0, 140.0), (90.0, 0.0)],
        ] {
            let failed = Line::moved(&through(&side), by(5.0)).expect_err("nothing of the side is left").0;
            let Problem::CrossesAt { x_mm, y_mm } = failed else { panic!("{failed:?}") };
            close((x_mm - side[1].0).hypot(y_mm - side[1].1), 5.0, 1e-9, "named beside the corner");
        }
    }

    #[test]
    fn a_tight_bend_and_a_side_are_trimmed_to_where_they_cross_once_moved() {
        // A quarter circle of 10 mm before a corner of a right angle, and its mirror image after one. Moved by 40 it has a
        // radius of 50, and the level side lies 40 mm below its centre: they cross 30 mm beside it, after asin(0.6).
        let (r, k) = (10.0, K * 10.0);
        let before = Arc::new(CubicBez::new((0.0, 40.0), (k, 40.0), (r, 30.0 + k), (r, 30.0)));
        let after = Arc::new(CubicBez::new((90.0, 30.0), (90.0, 30.0 + k), (100.0 - k, 40.0), (100.0, 40.0)));
        let side = |from: f64, to: f64| Arc::new(straight(Point::new(from, 30.0), Point::new(to, 30.0)));
        for arcs in [[before, side(10.0, 100.0)], [side(0.0, 90.0), after]] {
            // The shoulder lies square to the end, which runs level.
            let off = TakeOff { slope: FRAC_PI_2, ..by(40.0) };
            let line = Line::moved(&arcs, off).expect("it moves");
            close(line.length(), 50.0 * 0.6_f64.asin() + 70.0, 0.02, "an arc and a side");
        }
    }

    #[test]
    fn a_line_moved_by_nothing_is_the_known_line() {
        for arcs in [through(&[(0.0, 100.0), (50.0, 100.0), (90.0, 60.0), (90.0, 0.0)]), vec![quarter(80.0)]] {
            let line = Line::moved(&arcs, by(0.0)).expect("it moves");
            assert_eq!(line.nodes, Line::as_known(&arcs, 0.0).nodes, "node by node");
        }
    }

    #[test]
    fn two_loops_are_cut_out_one_after_the_other() {
        // A square whose corner is cut off by less than what the move takes: its sides, moved 30 mm toward the opening, lie
        // at y = 70 and x = 34. Trimmed at y = 68, 34 mm of the one and 2 of the other are left.
        let corner = through(&[(0.0, 100.0), (60.0, 100.0), (64.0, 96.0), (64.0, 0.0)]);
        let off = TakeOff { neckline: -30.0, centre: 0.0, shoulder: 68.0, slope: 0.0 };
        let (points, length) = Line::moved_with_loops(&corner, off).expect("it moves").without_loops();
        close(length, 34.0 + 2.0, 1e-9, "what is left");
        close(along(&points).0, 36.0, 1e-9, "as it is drawn");
        assert!(!along(&points).1, "without a loop");
        let corner = points[points.len() - 2];
        close((corner[0] - 34.0).hypot(corner[1] - 70.0), 0.0, 1e-9, "its corner");
    }

    #[test]
    fn a_line_that_touches_itself_does_not_cross() {
        // A corner that lies on the middle of another side, in all the ways that a side can lie.
        let touching = [(0.0, 64.0), (64.0, 64.0), (64.0, 128.0), (36.0, 64.0), (20.0, 128.0), (0.0, 128.0)];
        let crossing = [(0.0, 64.0), (64.0, 64.0), (64.0, 128.0), (36.0, 60.0), (20.0, 128.0), (0.0, 128.0)];
        for mirror in [1.0, -1.0] {
            let shape = |points: &[(f64, f64)]| points.iter().map(|(x, y)| (mirror * x, *y)).collect::<Vec<_>>();
            let (mut touches, mut crosses) = (shape(&touching), shape(&crossing));
            for way in ["there", "back"] {
                assert_eq!(self_crossing(&through(&touches)), None, "{mirror}, {way}: it touches");
                assert!(self_crossing(&through(&crosses)).is_some(), "{mirror}, {way}: it crosses");
                touches.reverse();
                crosses.reverse();
            }
        }
    }

    #[test]
    fn a_tongue_narrower_at_its_root_crosses_itself_however_it_is_drawn() {
        // A dovetail of straight lines: 16 mm wide at its root, 70 at its end.
        let root =
            [(0.0, 150.0), (47.0, 150.0), (20.0, 60.0), (90.0, 60.0), (63.0, 150.0), (110.0, 150.0), (110.0, 0.0)];
        // The same as one curve, its tip's radius 18 mm by hand.
        let [before, after] = [through(&root[..2]), through(&root[5..])];
        let curve = Arc::new(CubicBez::new((47.0, 150.0), (-10.0, 40.0), (120.0, 40.0), (63.0, 150.0)));
        let out = Arc::new(straight(Point::new(63.0, 150.0), Point::new(190.0, 0.0)));
        assert_eq!((before.len(), after.len()), (1, 1), "lines before and after");
        for (what, arcs) in [("straight", through(&root)), ("curved", vec![before[0], curve, out])] {
            assert_eq!(self_crossing(&arcs), None, "{what}: as it is drawn it does not");
            let failed = Line::moved(&arcs, by(12.0)).expect_err("its sides cross").0;
            let Problem::CrossesAt { x_mm, y_mm } = failed else { panic!("{what}: {failed:?}") };
            assert!((40.0..70.0).contains(&x_mm) && y_mm > 110.0, "{what}: at its root, {x_mm}, {y_mm}");
            let most = largest(&arcs, by(12.0)).expect("a smaller distance");
            assert!((2.0..9.0).contains(&most), "{what}: {most}");
            assert!(Line::moved(&arcs, by(most)).is_ok(), "{what}: the largest that works does");
            assert!(Line::moved(&arcs, by(most + 0.15)).is_err(), "{what}: and no larger one");
        }
    }

    /// Found beside an independent reckoning: the radius is under the distance between two of the places looked at.
    #[test]
    fn a_tight_bend_between_the_samples_is_a_cusp() {
        let arcs = [
            ((0.0, 87.1263), (10.4069, 87.1263), (29.3195, 86.7498), (34.5176, 77.7341)),
            ((34.5176, 77.7341), (43.3898, 62.3464), (36.5234, 39.6131), (37.6165, 21.8845)),
            ((37.6165, 21.8845), (37.7602, 19.5533), (36.2085, 16.8638), (38.3310, 15.8890)),
            ((38.3310, 15.8890), (53.6393, 8.8584), (69.3114, 5.4015), (85.2675, 0.0)),
        ];
        let arcs = arcs.map(|(a, b, c, d)| Arc::new(CubicBez::new(a, b, c, d)));
        // Looked at in a hundred thousand places.
        let places = (0..=100_000).map(|i| f64::from(i) / 1e5);
        let least = arcs.iter().flat_map(|arc| places.clone().map(|t| arc.curvature(t))).fold(0.0, f64::min);
        let radius = -1.0 / least;
        assert!((1.0..1.622_615).contains(&radius), "a bend away of {radius} mm");
        let failed = Line::moved(&arcs, by(1.622_615)).expect_err("further than the radius");
        assert!(matches!(failed.0, Problem::CuspAt { .. }), "a cusp, not {:?}", failed.0);
        assert_eq!(failed.1, Some((radius * 10.0).floor() / 10.0), "and the largest distance by that radius");
    }

    #[test]
    fn trims_take_whole_pieces_where_they_must() {
        // The first 20 mm and the last 30 are pieces of their own, and are gone.
        let arcs = through(&[(0.0, 100.0), (20.0, 100.0), (90.0, 100.0), (90.0, 30.0), (90.0, 0.0)]);
        let off = TakeOff { neckline: 0.0, centre: 25.0, shoulder: 40.0, slope: 0.0 };
        let line = Line::moved(&arcs, off).expect("it moves");
        close(line.length(), 65.0 + 60.0, 1e-9, "what is left of 70 and 70");
        close(line.half_width(), 65.0, 1e-9, "from the centre's seam");
        close(line.depth(), 60.0, 1e-9, "from the shoulder's seam");
        // Exactly at a joint: the piece goes, no more.
        let off = TakeOff { neckline: 0.0, centre: 20.0, shoulder: 30.0, slope: 0.0 };
        close(Line::moved(&arcs, off).expect("it moves").length(), 70.0 + 70.0, 1e-6, "to the joints");
        // A line that does not run toward a seam it falls short of has no extension to it: level with it, or away from it.
        for start in [(10.0, 20.0), (5.0, 20.0)] {
            let aside = through(&[(10.0, 100.0), start, (90.0, 0.0)]);
            assert_eq!(Line::moved(&aside, by(0.0)).expect_err("no way there").0, Problem::NothingLeft, "{start:?}");
        }
        for end in [(90.0, 50.0), (90.0, 55.0)] {
            let off = TakeOff { shoulder: -5.0, ..by(0.0) };
            let failed = Line::moved(&through(&[(0.0, 100.0), (30.0, 50.0), end]), off).expect_err("no way there").0;
            assert_eq!(failed, Problem::NothingLeft, "{end:?}");
        }
        for (centre, shoulder) in [(95.0, 0.0), (0.0, 110.0)] {
            let off = TakeOff { neckline: 0.0, centre, shoulder, slope: 0.0 };
            assert_eq!(Line::moved(&arcs, off).expect_err("it is gone").0, Problem::NothingLeft, "all of it");
        }
        // Past its ends a line goes on along its direction.
        let off = TakeOff { neckline: 0.0, centre: -7.0, shoulder: -9.0, slope: 0.0 };
        close(Line::moved(&arcs, off).expect("it moves").length(), 190.0 + 16.0, 1e-9, "longer by both");
        // At a slant to its end the shoulder takes more than its width: a V at 45 degrees, a level shoulder.
        let off = TakeOff { neckline: 0.0, centre: 10.0, shoulder: 10.0, slope: 0.0 };
        let leg = Line::moved(&through(&[(0.0, 80.0), (80.0, 0.0)]), off).expect("it moves");
        close(leg.length(), 60.0 * 2.0_f64.sqrt(), 1e-9, "the square root of 2 of it at each end");
    }
}
