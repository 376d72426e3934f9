//! Rectangles laid on pages of one size: a handful, so that every corner between them can be tried.

use crate::geometry::{add, sorted};
use crate::ink::Point;

/// Where a rectangle lies: on which page, its upper left corner there, and whether it is turned by a quarter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spot {
    pub page: usize,
    pub corner: Point,
    pub turned: bool,
}

/// A rectangle that is laid: its spot and its size there.
type Laid = (Spot, Point);

/// Lengths closer than this are the same, mm.
const SAME_MM: f64 = 1e-6;

/// Lays rectangles on pages of a size, `gap` apart, the first in the lower left corner of the first page. Several orders are tried,
/// and the first of those with fewest pages is taken. One too large for a page has one for itself.
pub(crate) fn pack(sizes: &[Point], page: Point, gap: f64) -> Vec<Spot> {
    // A gap is part of a rectangle, and the page is larger by one.
    let page = add(page, [gap; 2], 1.0);
    let sizes: Vec<Point> = sizes.iter().map(|size| add(*size, [gap; 2], 1.0)).collect();
    let keys: [fn(Point) -> f64; 4] = [|[w, h]| w * h, |[w, h]| w.max(h), |[_, h]| h, |[w, h]| w.min(h)];
    let ways = [(false, true), (false, false), (true, true), (true, false)];
    let tries = ways.iter().flat_map(|way| keys.iter().map(|key| in_order(&sizes, page, *key, *way)));
    let pages = |spots: &[Spot]| spots.iter().map(|spot| spot.page).max().unwrap_or(0);
    tries.reduce(|best, other| if pages(&other) < pages(&best) { other } else { best }).unwrap_or_default()
}

/// The largest by a key first, each on the first page that has room: whether the first of all is turned, and whether the others are
/// turned only where they do not fit else.
fn in_order(sizes: &[Point], page: Point, key: fn(Point) -> f64, (first_turned, turn_late): (bool, bool)) -> Vec<Spot> {
    let Some(first) = sizes.first().map(|size| quartered(*size, first_turned)) else { return Vec::new() };
    let start = Spot { page: 0, corner: [0.0, page[1] - first[1]], turned: first_turned };
    let mut laid: Vec<(usize, Laid)> = vec![(0, (start, first))];
    let rest = sizes.iter().enumerate().skip(1).map(|(i, size)| (-key(*size), i));
    for (_, i) in sorted(rest) {
        let Some(size) = sizes.get(i) else { continue };
        let found = (0..=sizes.len()).find_map(|number| {
            let here: Vec<Laid> = laid.iter().map(|(_, one)| *one).filter(|(spot, _)| spot.page == number).collect();
            on_page(*size, page, number, &here, turn_late)
        });
        let alone = laid.iter().map(|(_, (spot, _))| spot.page + 1).max().unwrap_or(0);
        let spot = found.unwrap_or(Spot { page: alone, corner: [0.0; 2], turned: false });
        laid.push((i, (spot, quartered(*size, spot.turned))));
    }
    sorted(laid.into_iter().map(|(i, (spot, _))| (i, spot.page, spot.corner, spot.turned)))
        .into_iter()
        .map(|(_, page, corner, turned)| Spot { page, corner, turned })
        .collect()
}

/// The highest free place on a page, and of those the leftmost.
fn on_page(size: Point, page: Point, number: usize, laid: &[Laid], turn_late: bool) -> Option<Spot> {
    let tops = laid.iter().map(|(spot, size)| spot.corner[1] + size[1]);
    let lefts = laid.iter().map(|(spot, size)| spot.corner[0] + size[0]);
    let (tops, lefts) = (sorted(tops.chain([0.0])), sorted(lefts.chain([0.0])));
    let ways = [false, true].map(|turned| (turned, quartered(size, turned)));
    let free = |corner: Point, size: Point| {
        let inside = (0..2).all(|axis| corner[axis] + size[axis] <= page[axis] + SAME_MM);
        inside && !laid.iter().any(|(spot, other)| overlap(corner, size, spot.corner, *other))
    };
    let spots = |(turned, size): (bool, Point)| {
        let corners = tops.iter().flat_map(|y| lefts.iter().map(|x| [*x, *y]));
        corners
            .filter(move |corner| free(*corner, size))
            .map(move |corner| Spot { page: number, corner, turned })
            .next()
    };
    let [level, turned] = ways.map(spots);
    match (level, turned) {
        (Some(level), Some(turned)) if !turn_late && turned.corner[1] < level.corner[1] => Some(turned),
        (level, turned) => level.or(turned),
    }
}

const fn quartered(size: Point, turned: bool) -> Point {
    if turned { [size[1], size[0]] } else { size }
}

fn overlap(corner: Point, size: Point, other: Point, other_size: Point) -> bool {
    (0..2).all(|axis| {
        corner[axis] + SAME_MM < other[axis] + other_size[axis] && other[axis] + SAME_MM < corner[axis] + size[axis]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: Point = [190.0, 260.0];

    fn assert_apart(sizes: &[Point], spots: &[Spot], gap: f64) {
        let boxes: Vec<(Spot, Point)> = spots
            .iter()
            .zip(sizes)
            .map(|(spot, size)| (*spot, if spot.turned { [size[1], size[0]] } else { *size }))
            .collect();
        for (i, (spot, size)) in boxes.iter().enumerate() {
            let far = add(spot.corner, *size, 1.0);
            assert!(
                spot.corner.iter().all(|v| *v >= 0.0) && far[0] <= PAGE[0] + 1e-6 && far[1] <= PAGE[1] + 1e-6,
                "{i} is on the page"
            );
            for (other, other_size) in boxes.iter().take(i).filter(|(other, _)| other.page == spot.page) {
                assert!(
                    !overlap(spot.corner, add(*size, [gap; 2], 1.0), other.corner, *other_size)
                        || !overlap(other.corner, add(*other_size, [gap; 2], 1.0), spot.corner, *size),
                    "{i} keeps its distance"
                );
            }
        }
    }

    #[test]
    fn what_fits_together_shares_a_page() {
        let sizes = [[106.0, 51.0], [150.0, 70.0], [70.0, 150.0], [60.0, 100.0]];
        let spots = pack(&sizes, PAGE, 4.0);
        assert!(spots.iter().all(|spot| spot.page == 0), "{spots:?}");
        assert_eq!(spots.first().map(|spot| spot.corner), Some([0.0, 209.0]), "the first in the lower left corner");
        assert_apart(&sizes, &spots, 4.0);
    }

    #[test]
    fn one_too_large_for_the_first_page_goes_on_and_a_small_one_beside_the_first() {
        let sizes = [[106.0, 51.0], [180.0, 250.0], [80.0, 50.0], [250.0, 180.0]];
        let spots = pack(&sizes, PAGE, 4.0);
        assert_eq!(spots.iter().map(|spot| spot.page).collect::<Vec<_>>(), [0, 1, 0, 2], "three pages");
        assert_eq!(spots.last().map(|spot| spot.turned), Some(true), "the last lies turned");
        assert_apart(&sizes, &spots, 4.0);
    }

    #[test]
    fn nothing_takes_no_page() {
        assert!(pack(&[], PAGE, 4.0).is_empty(), "nothing");
    }
}
