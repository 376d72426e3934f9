//! Writes the plans and readings of the invented garments anew: `cargo run -p lieflat-tests --example garments`, beside
//! their briefs, or into another folder that is named.

use std::path::PathBuf;

use lieflat_tests::garments::{Tree, brief, brief_json, folder, json, kept, names, reading};

fn main() {
    let into = std::env::args().nth(1).map_or_else(folder, PathBuf::from);
    let write = |file: String, text: String| {
        let path = into.join(file);
        std::fs::write(&path, text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    };
    for name in names() {
        let plan = lieflat::plan(&brief(&name)).unwrap_or_else(|e| panic!("{name}: {e}"));
        let told = Tree::read(&brief_json(&name)).unwrap_or_else(|e| panic!("{name}: {e}"));
        let kept = json(&kept(&plan)) + "\n";
        // Read from what is kept, to its last digit.
        let read = Tree::read(&kept).unwrap_or_else(|e| panic!("{name}: {e}"));
        write(format!("{name}.plan.json"), kept);
        write(format!("{name}.txt"), reading(&told, &read));
    }
}
