//! The built example `sheets`, run as a person runs it. `cargo test -p lieflat-sheets` builds it first; asked for
//! this file alone (`--test`), cargo leaves it as it was built last.
#![cfg(unix)]

use std::ffi::OsStr;
use std::fs::{self, File};
use std::os::unix::ffi::{OsStrExt, OsStringExt};
use std::path::{Path, PathBuf};
use std::process::Command;

const BRIEF: &str = include_str!("../../../tests/briefs/band-round.json");

fn sheets() -> Command {
    let test = std::env::current_exe().expect("this test has a path");
    let profile = test.parent().and_then(Path::parent).expect("it lies in the build's folder");
    let mut command = Command::new(profile.join("examples").join("sheets"));
    command.current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."));
    command
}

/// An empty folder of this check's own.
fn folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn file(folder: &Path, name: &[u8], text: &str) -> PathBuf {
    let path = folder.join(OsStr::from_bytes(name));
    fs::write(&path, text).expect("a file");
    path
}

#[track_caller]
fn assert_refused(command: &mut Command) -> String {
    let output = command.output().expect("it runs");
    let message = String::from_utf8(output.stderr).expect("what is said is UTF-8");
    assert_eq!(output.status.code(), Some(2), "refused as documented: {message}");
    assert!(!message.trim().is_empty() && !message.contains("panicked"), "in words: {message}");
    message
}

#[test]
fn any_file_name_serves_and_a_byte_order_mark_is_read_over() {
    let folder = folder("names");
    let brief = file(&folder, b"t\xe9e \xff.json", &format!("\u{feff}{BRIEF}"));
    let options = file(&folder, b"o\xff.json", "\u{feff}{ \"sheets\": [\"card\"] }");
    let out = folder.join(OsStr::from_bytes(b"out \xff"));
    let output = sheets().args([&brief, &out, &options]).output().expect("it runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let mut pdf = out.into_os_string().into_vec();
    pdf.extend(b".pdf");
    let made = fs::read(OsStr::from_bytes(&pdf)).expect("the sheets are where they were asked for");
    assert!(made.starts_with(b"%PDF"), "and are sheets");
}

#[test]
fn a_closed_pipe_is_quiet_and_a_full_device_is_said() {
    let folder = folder("ends");
    let brief = file(&folder, b"brief.json", BRIEF);
    let options = file(&folder, b"options.json", "{ \"sheets\": [\"card\"] }");
    let out = folder.join("out");
    let (reader, writer) = std::io::pipe().expect("a pipe");
    drop(reader);
    let output = sheets().args([&brief, &out, &options]).stdout(writer).output().expect("it runs");
    assert_eq!((output.status.code(), output.stderr.len()), (Some(0), 0), "no one reads on: that is no error");
    let full = || File::options().write(true).open("/dev/full").expect("Linux has one");
    let message = assert_refused(sheets().args([&brief, &out, &options]).stdout(full()));
    assert!(message.contains("standard output"), "what could not be written: {message}");
    let status = sheets().args([&brief, &out, &options]).stdout(full()).stderr(full()).status().expect("it runs");
    assert_eq!(status.code(), Some(2), "nowhere to say it");
}

#[test]
fn what_is_asked_is_understood_whole_or_refused() {
    let folder = folder("asked");
    let brief = file(&folder, b"brief.json", BRIEF);
    let out = folder.join("out");
    assert_refused(&mut sheets());
    assert_refused(sheets().args([&brief, &out, &brief, &brief]));
    assert_refused(sheets().args([&folder.join("none.json"), &out]));
    assert_refused(sheets().args([&brief, &folder.join("no such folder").join("out")]));
    for options in
        ["[1]", "7", "{ \"language\": 7 }", "{ \"language\": \"xx\" }", "{} {}", "{ \"paper\": \"bark\" }", ""]
    {
        let options = file(&folder, b"options.json", options);
        assert_refused(sheets().args([&brief, &out, &options]));
    }
}
