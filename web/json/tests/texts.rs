//! The small reader and writer against serde_json, the general-purpose library whose place they take in the page.

use std::collections::BTreeMap;

use lieflat::brief::Brief;
use lieflat::sizes::SizeSet;
use lieflat_json::{Fit, Wrong, read, write};
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// The worked briefs: their names and texts.
fn briefs() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/briefs");
    let files = std::fs::read_dir(folder).expect("the worked briefs").map(|file| file.expect("a file").path());
    let texts = files
        .filter(|path| path.extension().is_some_and(|end| end == "json"))
        .map(|path| (path.display().to_string(), std::fs::read_to_string(&path).expect("a brief's text")));
    let briefs: Vec<_> = texts.collect();
    assert!(briefs.len() >= 5, "there are worked briefs: {}", briefs.len());
    briefs
}

/// A value whose numbers are all doubles: 12 and 12.0 are one.
fn in_numbers(value: Value) -> Value {
    match value {
        Value::Number(number) => number.as_f64().expect("a double").into(),
        Value::Array(all) => all.into_iter().map(in_numbers).collect(),
        Value::Object(fields) => fields.into_iter().map(|(name, value)| (name, in_numbers(value))).collect(),
        other => other,
    }
}

#[test]
fn every_worked_brief_is_read_as_the_library_reads_it() {
    for (name, text) in briefs() {
        let expected: Brief = serde_json::from_str(&text).expect("a brief");
        assert_eq!(read::<Brief>(&text, Fit::Exact), Ok(expected), "{name}");
    }
}

#[test]
fn every_plan_is_written_as_the_library_writes_it() {
    for (name, text) in briefs() {
        let brief: Brief = serde_json::from_str(&text).expect("a brief");
        let Ok(plan) = lieflat::plan(&brief) else { continue };
        assert!(!plan.working.is_empty(), "{name}: the working is written too");
        let written = write(&plan).expect("a plan has JSON");
        let got: Value = serde_json::from_str(&written).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(in_numbers(got), in_numbers(serde_json::to_value(&plan).expect("a plan has JSON")), "{name}");
    }
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Kinds {
    text: String,
    number: f64,
    count: u32,
    flag: bool,
    perhaps: Option<f64>,
    pair: [f64; 2],
    list: Vec<Choice>,
    #[serde(default)]
    usual: u8,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum Choice {
    OneAlone,
    Holds(f64),
    Two(u32, String),
    Named { a_mm: f64, b: Option<bool> },
}

fn kinds(text: &str) -> Kinds {
    let list = vec![
        Choice::OneAlone,
        Choice::Holds(0.1),
        Choice::Two(7, text.to_owned()),
        Choice::Named { a_mm: -2.5, b: Some(false) },
        Choice::Named { a_mm: 1e-7, b: None },
    ];
    let text = text.to_owned();
    Kinds { text, number: 12.75, count: 4_000_000_000, flag: true, perhaps: None, pair: [1.0, -0.5], list, usual: 3 }
}

#[test]
fn every_kind_of_value_and_every_letter_goes_there_and_back() {
    let all: String = (0..0x2_0000).filter_map(char::from_u32).collect();
    for text in
        ["", "plain", "\"quoted\" \\ and / \u{8}\u{c}\n\r\t\0\u{1f}\u{7f}", "ñ 𝄞 \u{fffd} \u{2028}", all.as_str()]
    {
        let value = kinds(text);
        let written = write(&value).expect("it has JSON");
        assert_eq!(serde_json::from_str::<Kinds>(&written).expect("JSON"), value, "the library reads what is written");
        assert_eq!(read::<Kinds>(&written, Fit::Exact), Ok(value.clone()), "and so does the reader");
        let pretty = serde_json::to_string_pretty(&value).expect("it has JSON");
        assert_eq!(read::<Kinds>(&pretty, Fit::Exact), Ok(value), "with white space, as the library writes it");
    }
}

#[test]
fn escapes_are_read_as_browsers_write_them() {
    // The escapes of RFC 8259, section 7; half a pair of surrogates alone, which JavaScript's texts may hold, has no letter.
    for (text, expected) in [
        (r#""\u00e9\u0041\/""#, "éA/"),
        (r#""\ud834\udd1e""#, "𝄞"),
        (r#""\ud834""#, "\u{fffd}"),
        (r#""\ud834\u0041""#, "\u{fffd}A"),
        (r#""\udd1e!""#, "\u{fffd}!"),
    ] {
        assert_eq!(read::<String>(text, Fit::Exact).as_deref(), Ok(expected), "{text}");
    }
}

#[test]
fn fields_come_in_any_order_and_unknown_ones_are_passed_over_or_refused() {
    let text = r#" { "more": [{ "deep": ["}", { "a": "]" }] }, null, -1e5 ], "pair": [1, 2], "list": [ ], "flag": false,
        "count": 2, "number": 3, "text": "a", "perhaps": 4, "text": "last" } "#;
    let expected = Kinds {
        text: "last".to_owned(),
        number: 3.0,
        count: 2,
        flag: false,
        perhaps: Some(4.0),
        pair: [1.0, 2.0],
        list: Vec::new(),
        usual: 0,
    };
    assert_eq!(read::<Kinds>(text, Fit::Loose), Ok(expected), "passed over");
    assert_eq!(read::<Kinds>(text, Fit::Exact), Err(Wrong::UnknownField), "refused");
}

#[test]
fn names_that_are_anyones_choice_are_read_with_what_they_hold() {
    let map = |text: &str| read::<BTreeMap<String, Vec<f64>>>(text, Fit::Exact);
    let text = r#" { "b" : [ 1, 2 ] , "\u00e9": [], "a": [3] } "#;
    assert_eq!(map(text), Ok(serde_json::from_str(text).expect("a map")), "as the library reads it");
    assert_eq!(map(" { } "), Ok(BTreeMap::new()), "an empty one");
    for wrong in [
        "",
        "{",
        "[]",
        "{\"a\"}",
        "{\"a\":}",
        "{\"a\":[1]",
        "{\"a\":[1],}",
        "{\"a\":[1]]",
        "{a:[1]}",
        "{\"a\":1}",
        "{} {}",
    ] {
        assert!(map(wrong).is_err(), "{wrong} is refused");
    }
}

#[test]
fn whatever_comes_is_read_where_anything_may() {
    for (name, text) in briefs() {
        let expected: Value = serde_json::from_str(&text).expect("JSON");
        assert_eq!(read::<Value>(&text, Fit::Exact).map(in_numbers), Ok(in_numbers(expected)), "{name}");
    }
    let text = r#" [ null, true, false, "NaN", -0.5e1, {}, [], { "a": [ { "b": "" } ] } ] "#;
    assert_eq!(read::<Value>(text, Fit::Exact), serde_json::from_str(text).map_err(|_| Wrong::NoJson), "{text}");
    for wrong in ["", "nul", "tru", "[1,]", "{\"a\":}", "'a'", "1 2", "[}"] {
        assert!(read::<Value>(wrong, Fit::Exact).is_err(), "{wrong} is refused");
    }
}

#[test]
fn an_optional_field_may_be_absent_and_no_other() {
    let mut expected = kinds("a");
    expected.usual = 0;
    let whole = write(&expected).expect("it has JSON");
    let absent = |name: &str| {
        let mut value: Value = serde_json::from_str(&whole).expect("JSON");
        value.as_object_mut().and_then(|fields| fields.remove(name)).expect("it stands there");
        read::<Kinds>(&value.to_string(), Fit::Exact)
    };
    for (name, meant) in
        [("perhaps", true), ("usual", true), ("text", false), ("number", false), ("flag", false), ("list", false)]
    {
        assert_eq!(absent(name), if meant { Ok(expected.clone()) } else { Err(Wrong::MissingField) }, "without {name}");
    }
}

#[test]
fn what_is_no_number_is_read_where_a_number_is_wanted_and_nowhere_else() {
    let number = |text: &str| read::<f64>(text, Fit::Loose);
    assert!(number("\"NaN\"").is_ok_and(f64::is_nan), "no number");
    assert_eq!(number("\"Infinity\""), Ok(f64::INFINITY), "infinite");
    assert_eq!(number("\"-Infinity\""), Ok(f64::NEG_INFINITY), "infinite below");
    assert_eq!(number("\"12\""), Err(Wrong::OtherKind), "a text is no number");
    assert_eq!(read::<String>("\"NaN\"", Fit::Loose).as_deref(), Ok("NaN"), "a name may be so called");
    assert_eq!(read::<f64>("\"NaN\"", Fit::Exact), Err(Wrong::OtherKind), "only a number is one");
    assert_eq!(write(&[f64::NAN, f64::INFINITY, 1.0]).as_deref(), Ok("[null,null,1]"), "JSON has no word for them");
}

#[test]
fn what_is_wrong_is_said_by_its_kind() {
    let whole = write(&kinds("a")).expect("it has JSON");
    assert!(read::<Kinds>(&whole, Fit::Exact).is_ok(), "{whole} is whole");
    for (from, to, expected) in [
        ("\"text\":\"a\",", "", Wrong::MissingField),
        ("\"pair\":[1,-0.5]", "\"pair\":[1]", Wrong::MissingField),
        ("\"pair\":[1,-0.5]", "\"pair\":[1,-0.5,2]", Wrong::OtherKind),
        ("\"number\":12.75", "\"number\":true", Wrong::OtherKind),
        ("\"number\":12.75", "\"number\":null", Wrong::OtherKind),
        ("\"number\":12.75", "\"number\":1.2.3", Wrong::OtherKind),
        ("\"count\":4000000000", "\"count\":-1", Wrong::OtherKind),
        ("\"count\":4000000000", "\"count\":1.5", Wrong::OtherKind),
        ("\"count\":4000000000", "\"count\":5000000000", Wrong::OtherKind),
        ("\"flag\":true", "\"flag\":1", Wrong::OtherKind),
        ("\"text\":\"a\"", "\"text\":1", Wrong::OtherKind),
        ("one_alone", "another", Wrong::UnknownChoice),
        ("\"one_alone\"", "{\"one_alone\":1}", Wrong::OtherKind),
        ("{\"holds\":0.1}", "\"holds\"", Wrong::OtherKind),
        ("\"a_mm\"", "\"a_cm\"", Wrong::UnknownField),
        ("\"list\":[", "\"list\":[,", Wrong::OtherKind),
    ] {
        let text = whole.replacen(from, to, 1);
        assert_ne!(text, whole, "{from} stands there");
        assert_eq!(read::<Kinds>(&text, Fit::Exact).expect_err(&text), expected, "{text}");
    }
}

/// Small changes anywhere, and texts cut off: a value or a refusal, never more, and never another value than the library's.
#[test]
fn any_text_is_read_or_refused() {
    let whole = write(&kinds("a\"\\é")).expect("it has JSON");
    let mut refused = 0;
    for at in (0..whole.len()).filter(|at| whole.is_char_boundary(*at)) {
        for put in ["", "\"", "\\", "{", "}", "[", "]", ",", ":", "0", "e", "null", "\u{0}", "𝄞"] {
            for text in [whole[..at].to_owned() + put, whole[..at].to_owned() + put + &whole[at..]] {
                match (read::<Kinds>(&text, Fit::Exact), serde_json::from_str::<Kinds>(&text)) {
                    (Ok(got), Ok(expected)) => assert_eq!(got, expected, "{text}"),
                    // A whole number written with an exponent, or with a zero before it.
                    (Ok(_), Err(error)) => assert!(["e", "0"].contains(&put), "{text} is read, but: {error}"),
                    (Err(_), Ok(expected)) => panic!("the library reads {text} as {expected:?}"),
                    (Err(_), Err(_)) => refused += 1,
                }
            }
        }
    }
    assert!(refused > 1000, "most such texts are refused: {refused}");
    let deep = "[".repeat(3_000_000);
    assert_eq!(read::<SizeSet>(&format!("{{\"more\":{deep}"), Fit::Loose), Err(Wrong::NoJson), "however deep");
}
