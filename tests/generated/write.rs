//! Writes everything that is generated of the core's types: `cargo run -p lieflat-tests --example generate`.

use std::fs;

use lieflat_tests::generated::files;

fn main() {
    for file in files() {
        if file.is_current() {
            continue;
        }
        let place = file.place();
        let written = place.parent().map_or(Ok(()), fs::create_dir_all).and_then(|()| fs::write(&place, &file.text));
        written.unwrap_or_else(|e| panic!("{}: {e}", file.path));
        println!("{}", file.path);
    }
}
