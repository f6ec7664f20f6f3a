//! Our JSON against serde_json (an independent reader and writer) and the grammar
//! of RFC 8259.
#![allow(clippy::unwrap_used)] // a failed test may panic

use hearthjar::json::{Json, parse, parse_kept};
use proptest::prelude::*;

/// Any JSON value in serde_json's terms, whole numbers only: serde_json rounds others.
fn any_value() -> impl Strategy<Value = serde_json::Value> {
    let leaf = prop_oneof![
        Just(serde_json::Value::Null),
        any::<bool>().prop_map(Into::into),
        any::<i64>().prop_map(Into::into),
        "\\PC{0,12}".prop_map(Into::into),
        any::<String>().prop_map(Into::into),
    ];
    leaf.prop_recursive(5, 40, 6, |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..6).prop_map(Into::into),
            proptest::collection::btree_map(any::<String>(), inner, 0..6)
                .prop_map(|map| serde_json::Value::Object(map.into_iter().collect())),
        ]
    })
}

/// JSON texts of every shape a writer might choose.
fn any_text() -> impl Strategy<Value = String> {
    let space = || prop_oneof![8 => Just(""), 1 => Just(" "), 1 => Just("\n")];
    let string = || {
        let part = prop_oneof![
            4 => "[a-c/é😀]{1,2}",
            1 => prop_oneof![
                Just("\\n"), Just("\\t"), Just("\\b"), Just("\\/"), Just("\\\""), Just("\\\\"),
                Just("\\u0001"), Just("\\u000A"), Just("\\u001f"), Just("\\u001F"), Just("\\u0061"),
                Just("\u{7f}"), Just("\u{2028}"),
            ].prop_map(str::to_owned),
        ];
        proptest::collection::vec(part, 0..3).prop_map(|parts| format!("\"{}\"", parts.concat()))
    };
    let leaf = prop_oneof![
        Just("null".to_owned()),
        Just("true".to_owned()),
        prop_oneof![Just("1"), Just("-0"), Just("1.50"), Just("1e5"), Just("1E+5")]
            .prop_map(str::to_owned),
        string(),
    ];
    leaf.prop_recursive(4, 30, 4, move |inner| {
        prop_oneof![
            (proptest::collection::vec((space(), inner.clone(), space()), 0..4)).prop_map(|list| {
                let list: Vec<String> =
                    list.iter().map(|(a, one, b)| format!("{a}{one}{b}")).collect();
                format!("[{}]", list.join(","))
            }),
            proptest::collection::vec((space(), string(), space(), inner), 0..4).prop_map(|list| {
                let list: Vec<String> =
                    list.iter().map(|(a, name, b, one)| format!("{a}{name}{b}:{one}")).collect();
                format!("{{{}}}", list.join(","))
            }),
        ]
    })
}

proptest! {
    #[test]
    fn reads_and_writes_what_serde_json_does(value in any_value()) {
        let theirs = value.to_string();
        let ours = parse(&theirs).unwrap();
        let printed = ours.to_string();
        prop_assert_eq!(serde_json::from_str::<serde_json::Value>(&printed).unwrap(), value.clone());
        prop_assert_eq!(parse(&printed).unwrap(), ours);
        // White space changes nothing.
        prop_assert_eq!(parse(&serde_json::to_string_pretty(&value).unwrap()).unwrap().to_string(), printed);
    }

    #[test]
    fn a_text_called_printed_is_what_the_printer_writes(text in any_text()) {
        // Texts close to canonical ones: spaces, escapes, order and doubles vary.
        if let Ok((value, printed)) = parse_kept(&text) {
            prop_assert!(!printed || value.to_string() == text, "{text}");
            // And the printer's own text is known for one, but for rare escapes.
            let own = value.to_string();
            let (_, printed) = parse_kept(&own).unwrap();
            prop_assert_eq!(printed, !own.contains("\\u"), "{}", own);
        }
    }

    #[test]
    fn refuses_what_serde_json_refuses(text in "[\\[\\]{}:,\"0-9a-z.eE+\\\\ -]{0,12}") {
        // serde_json also refuses numbers too large for it, which RFC 8259 allows.
        let theirs = serde_json::from_str::<serde_json::Value>(&text);
        match theirs {
            Ok(_) => prop_assert!(parse(&text).is_ok(), "{text}"),
            Err(error) if error.to_string().starts_with("number out of range") => {}
            Err(_) => prop_assert!(parse(&text).is_err(), "{text}"),
        }
    }

    #[test]
    fn no_text_makes_it_panic(text in any::<String>()) {
        let _ = parse(&text);
    }
}

#[test]
fn numbers_keep_their_digits() {
    // RFC 8259, section 6: any number of digits is allowed.
    for digits in ["0", "-0", "1.50", "1e400", "-0.0e-7", "123456789012345678901234567890"] {
        assert_eq!(parse(digits).unwrap().to_string(), digits);
    }
    assert_eq!(parse("12").unwrap().as_whole(), Some(12));
    assert_eq!(parse("12.0").unwrap().as_whole(), None);
    for wrong in ["01", "+1", "1.", ".5", "1e", "0x1", "NaN", "Infinity", "--1"] {
        assert!(parse(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn escapes_follow_section_seven() {
    assert_eq!(parse(r#""\u00e9\ud83d\ude00\/\b""#).unwrap(), Json::text("é😀/\u{8}"));
    for wrong in [r#""\ud800""#, r#""\ud800\u0041""#, r#""\x""#, r#""\u12g4""#, "\"\n\"", "\"open"]
    {
        assert!(parse(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn depth_ends_at_sixty_four() {
    let nested = |depth: usize| format!("{}{}", "[".repeat(depth), "]".repeat(depth));
    assert!(parse(&nested(65)).is_ok());
    assert!(parse(&nested(66)).is_err());
    assert!(parse(&nested(1_000_000)).is_err());
    assert!(parse(&"{\"a\":".repeat(1_000_000)).is_err());
}

#[test]
fn of_two_members_of_one_name_the_later_counts_and_names_are_sorted() {
    let value = parse(r#"{"b":1,"a":2,"b":3}"#).unwrap();
    assert_eq!(value.to_string(), r#"{"a":2,"b":3}"#);
}
