//! The invented garments of `tests/garments`. Their figures are the program's own and no reference: they are read by a
//! maker's eye, and held here so that no change goes unseen.

use std::collections::BTreeSet;

use lieflat::brief::{AdultGroup, Finish, HeadGirth, Layers, PointFinish, Rounding};
use lieflat_tests::garments::{Tree, brief, brief_json, differences, folder, kept, names, reading};

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

fn kept_file(file: &str) -> String {
    let path = folder().join(file);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

#[test]
fn their_plans_are_those_that_were_kept_and_read() {
    let mut changed = Vec::new();
    for name in names() {
        let plan = lieflat::plan(&brief(&name)).unwrap_or_else(|e| panic!("{name}: {e}"));
        let before = Tree::read(&kept_file(&format!("{name}.plan.json"))).unwrap_or_else(|e| panic!("{name}: {e}"));
        changed.extend(differences(&before, &kept(&plan)).into_iter().map(|difference| format!("{name}{difference}")));
        let told = Tree::read(&brief_json(&name)).unwrap_or_else(|e| panic!("{name}: {e}"));
        let read = kept_file(&format!("{name}.txt"));
        assert!(read == reading(&told, &before), "{name}.txt is the reading of its kept plan: write both anew");
    }
    let some = changed.iter().take(40).cloned().collect::<Vec<_>>().join("\n");
    assert!(
        changed.is_empty(),
        "{} figures are others now. Read them as a maker would; where they are right, write them anew with\n\
        cargo run -p lieflat-tests --example garments\n{some}",
        changed.len(),
    );
}

#[test]
fn a_difference_is_told_where_there_is_one() {
    let tree = |json: &str| Tree::read(json).expect("JSON");
    let kept = tree(r#"{ "a": [1, 2.5], "b": "x", "c": { "d": 3 } }"#);
    assert!(differences(&kept, &kept).is_empty(), "none from itself");
    assert!(differences(&kept, &tree(r#"{ "a": [1, 2.509], "b": "x", "c": { "d": 3 } }"#)).is_empty(), "nor by a hair");
    let found = differences(&kept, &tree(r#"{ "a": [1, 2.6], "b": "y", "c": { "e": 3 } }"#));
    let told = [".a.1: 2.5 is now 2.6", ".b: \"x\" is now \"y\"", ".c.d: 3 is gone", ".c.e: 3 is new"];
    assert_eq!(found, told, "a number, a text, a field that is gone and one that is new");
}
