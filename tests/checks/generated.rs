//! What is generated of the core's types is kept in the repository, and is current.

use lieflat_tests::generated::files;

#[test]
fn what_is_generated_is_what_the_types_say_now() {
    let stale: Vec<String> = files().into_iter().filter(|file| !file.is_current()).map(|file| file.path).collect();
    assert!(stale.is_empty(), "{stale:?} are stale: `cargo run -p lieflat-tests --example generate` writes them anew");
}
