//! The invented garments of `tests/garments`. Their figures are the program's own and no reference: they are read by a
//! maker's eye, and held here so that no change goes unseen.

use std::collections::BTreeSet;

use lieflat::brief::{AdultGroup, Finish, HeadGirth, Layers, PointFinish, Rounding};
use lieflat_tests::garments::{brief, names};

#[test]
fn they_are_forty_of_every_kind_and_all_plan() {
    let names = names();
    assert_eq!(names.len(), 40, "{names:?}");
    let mut kinds = BTreeSet::new();
    for name in &names {
        let brief = brief(name);
        let title = brief.title.clone().unwrap_or_default();
        assert!(title.starts_with("Invented: "), "{name} says that it is invented: {title}");
        lieflat::plan(&brief).unwrap_or_else(|e| panic!("{name}: {e}"));
        kinds.insert(match &brief.finish {
            Finish::Band(band) if band.layers == Layers::Single => "a band of one layer",
            Finish::Band(band) if band.point == PointFinish::Lap => "a lapped band",
            Finish::Band(_) => "a folded band",
            Finish::Bound(bound) if bound.layers == Layers::Single => "bound with one layer",
            Finish::Bound(_) => "bound with two",
            Finish::Tape(_) => "a tape",
            Finish::Facing(_) => "a facing",
        });
        kinds.insert(match brief.head.girth {
            HeadGirth::Adult(AdultGroup::Women) => "for women",
            HeadGirth::Adult(AdultGroup::Men) => "for men",
            HeadGirth::Child { .. } => "for a child",
            HeadGirth::OwnMm(_) => "for a head that was measured",
        });
        kinds.insert(if brief.rounding == Rounding::Millimetre { "in millimetres" } else { "in inches" });
    }
    assert_eq!(kinds.len(), 7 + 4 + 2, "every kind of finish, wearer and unit: {kinds:?}");
    for shape in ["crew", "v-", "scoop", "boat", "square", "sweetheart"] {
        assert!(names.iter().any(|name| name.contains(shape)), "one has a {shape} neck");
    }
}
