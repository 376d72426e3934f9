//! The built examples `plan` and `brief`, run as a person runs them: what is documented at their heads must hold
//! whatever file name, file or device they are given. `cargo test -p lieflat` builds them first; asked for this file
//! alone (`--test`), cargo leaves them as they were built last.
#![cfg(unix)]

use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::Write;
use std::os::unix::ffi::OsStrExt;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

const BRIEF: &str = include_str!("../../tests/briefs/band-round.json");

fn example(name: &str) -> Command {
    let test = std::env::current_exe().expect("this test has a path");
    let profile = test.parent().and_then(|deps| deps.parent()).expect("it lies in the build's folder");
    Command::new(profile.join("examples").join(name))
}

/// A file of these bytes in a folder of this check's own.
fn file(folder: &str, name: &[u8], bytes: &[u8]) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(folder);
    fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join(OsStr::from_bytes(name));
    fs::write(&path, bytes).expect("a file");
    path
}

fn said(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("what is said is UTF-8");
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

fn run(command: &mut Command) -> (Option<i32>, String, String) {
    said(&command.output().expect("it runs"))
}

/// Exit code 2, nothing on standard output, and JSON of errors that have messages.
#[track_caller]
fn assert_refused((code, out, errors): (Option<i32>, String, String)) -> String {
    assert_eq!((code, out.len()), (Some(2), 0), "refused as documented: {errors}");
    let errors: serde_json::Value = serde_json::from_str(&errors).expect("the errors are JSON");
    let message = errors["errors"][0]["message"].as_str().expect("with a message");
    assert!(!message.is_empty() && !message.contains("panicked"), "in words: {message}");
    message.to_owned()
}

#[test]
fn a_file_name_that_is_not_utf_8_is_a_file_name() {
    let path = file("names", b"t\xe9e-shirt \xff.json", BRIEF.as_bytes());
    let (code, plan, errors) = run(example("plan").arg(&path));
    assert_eq!((code, errors.as_str()), (Some(0), ""), "it plans");
    assert!(plan.contains("\"seam_line\""), "the plan is there");
    let message = assert_refused(run(example("plan").arg(OsStr::from_bytes(b"no such \xff file.json"))));
    assert!(message.contains("no such \u{fffd} file.json"), "the name as far as it can be shown: {message}");
}

#[test]
fn a_device_that_is_full_is_said() {
    let path = file("full", b"brief.json", BRIEF.as_bytes());
    for command in [example("plan").arg(&path), &mut example("brief")] {
        let full = File::options().write(true).open("/dev/full").expect("Linux has one");
        let message = assert_refused(run(command.stdout(full)));
        assert!(message.contains("standard output"), "what could not be written: {message}");
    }
    // Nowhere to say it: the exit code still does.
    let full = || File::options().write(true).open("/dev/full").expect("Linux has one");
    let status = example("plan").arg(&path).stdout(full()).stderr(full()).status().expect("it runs");
    assert_eq!(status.code(), Some(2), "both full");
    let status = example("plan").arg("no such file").stderr(full()).status().expect("it runs");
    assert_eq!(status.code(), Some(2), "errors that cannot be written");
}

#[test]
fn a_reader_that_has_had_enough_is_no_error() {
    let path = file("closed", b"brief.json", BRIEF.as_bytes());
    for command in [example("plan").arg(&path), &mut example("brief")] {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        assert_eq!(run(command.stdout(writer)), (Some(0), String::new(), String::new()), "ends well and says nothing");
    }
    let (reader, writer) = std::io::pipe().expect("a pipe");
    drop(reader);
    let status = example("plan").arg("no such file").stderr(writer).status().expect("it runs");
    assert_eq!(status.code(), Some(2), "no one reads the errors: the exit code stays");
}

#[test]
fn a_byte_order_mark_is_read_over_and_no_other_bytes_are() {
    let (_, plain, _) = run(example("plan").arg(file("marks", b"plain.json", BRIEF.as_bytes())));
    let marked = format!("\u{feff}{BRIEF}");
    let path = file("marks", b"marked.json", marked.as_bytes());
    let (code, out, errors) = run(example("plan").arg(&path));
    assert!((code, errors.as_str()) == (Some(0), "") && out == plain, "from a file: {errors}");

    let mut piped = example("plan").arg("-").stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it runs");
    piped.stdin.take().expect("an input").write_all(marked.as_bytes()).expect("it reads");
    let (code, out, _) = said(&piped.wait_with_output().expect("it ends"));
    assert!(code == Some(0) && out == plain, "from standard input");

    let wide: Vec<u8> = marked.encode_utf16().flat_map(u16::to_le_bytes).collect();
    for bytes in [
        format!("\u{feff}{marked}").as_bytes(),
        &wide,
        b"\xff",
        b"",
        format!("{BRIEF}\u{feff}").as_bytes(),
        format!("{BRIEF}{{}}").as_bytes(),
    ] {
        assert_refused(run(example("plan").arg(file("marks", b"other.json", bytes))));
    }
}

#[test]
fn what_is_asked_is_understood_whole_or_refused() {
    let path = file("asked", b"brief.json", BRIEF.as_bytes());
    for command in
        [&mut example("plan"), example("plan").args([&path, &path]), example("plan").arg("/"), example("plan").arg("")]
    {
        assert_refused(run(command));
    }
    let sweetheart = include_str!("../../tests/briefs/band-sweetheart.json");
    let cut = sweetheart.replace("82 110 C", "82 110 (shoulder) C");
    assert_ne!(cut, sweetheart, "the front's path has a word in it now");
    let message = assert_refused(run(example("plan").arg(file("asked", b"cut.json", cut.as_bytes()))));
    assert!(message.contains("character 32") && message.contains("(shoulder)"), "the place: {message}");
}
