//! The short code of a batch: the same events back, damage noticed, sizes.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::finished::{processed, random_id};
use common::{any_events, id, start};
use hearthjar::batch::{Archive, BatchStart, Event, Seal, Text};
use hearthjar::exchange::{Code, LARGEST, QUIET, ReadError, is_code, picture, read_any, write};
use hearthjar::units::EpochMs;
use proptest::prelude::*;
use sha2::{Digest, Sha256};

/// The events of one batch, as an archive keeps them.
fn of_one(events: Vec<Event>) -> Vec<Event> {
    Archive::from_events(events).events(id(100)).to_vec()
}

proptest! {
    #[test]
    fn what_goes_out_comes_in(events in any_events()) {
        let events = of_one(events);
        let code = Code::of(&events);
        // Few events always fit; none is no code.
        prop_assert_eq!(code.is_none(), events.is_empty());
        let Some(code) = code else { return Ok(()) };
        let text = code.text();
        let again = read_any(&text).unwrap();
        // Unknown kinds and members too, to the byte.
        prop_assert_eq!(&again, &events);
        // What a messenger does to a text: breaks, case, spaces around.
        let wrapped: Vec<&str> = code.digits.as_bytes().chunks(33)
            .map(|line| std::str::from_utf8(line).unwrap()).collect();
        let head = code.head.to_lowercase();
        let mailed = format!("\r\n {head}\r\n{}\n", wrapped.join("\r\n"));
        prop_assert_eq!(read_any(&mailed).unwrap(), events);
    }

    #[test]
    fn a_changed_or_cut_code_brings_nothing(
        events in any_events(), place in any::<prop::sample::Index>(), digit in 0_u8..10,
    ) {
        let events = of_one(events);
        prop_assume!(!events.is_empty());
        let code = Code::of(&events).unwrap();
        let at = place.index(code.digits.len());
        let mut digits = code.digits.clone().into_bytes();
        prop_assume!(digits[at] != b'0' + digit);
        digits[at] = b'0' + digit;
        let changed = format!("{}{}", code.head, String::from_utf8(digits).unwrap());
        prop_assert_eq!(read_any(&changed), Err(ReadError::Altered));
        let cut = format!("{}{}", code.head, &code.digits[..at]);
        prop_assert!(read_any(&cut).unwrap_err().is_damage());
    }

    #[test]
    fn any_bytes_behind_a_right_checksum_are_events_or_an_error(
        bytes in proptest::collection::vec(any::<u8>(), 0..300), count in 0_u8..4,
    ) {
        // A batch's name and a few events' beginnings, then anything.
        let mut packed = [vec![7; 16], vec![count], bytes].concat();
        packed.extend(&Sha256::digest(&packed)[..4].to_vec());
        if let Ok(events) = read_any(&code_of(&packed)) {
            prop_assert_eq!(events.len(), usize::from(count));
            for event in events {
                prop_assert_eq!(Event::parse(event.text()).unwrap(), event);
            }
        }
    }
}

/// The text of any bytes, written as the format says and not by the code under test.
fn code_of(bytes: &[u8]) -> String {
    let mut digits = String::new();
    for piece in bytes.chunks(8) {
        let number = piece.iter().fold(0_u128, |sum, byte| sum * 256 + u128::from(*byte));
        // The fewest digits that hold 256 to the power of the length.
        let width = (256_u128.pow(u32::try_from(piece.len()).unwrap()) - 1).to_string().len();
        digits.push_str(&format!("{number:0width$}"));
    }
    format!("HEARTHJAR CODE 1 {} {digits}", bytes.len())
}

#[test]
fn each_kind_of_bad_code_has_its_own_sentence() {
    let (archive, _) = processed(id(100), start(), 3, &[]);
    let code = Code::of(archive.events(id(100))).unwrap();
    let text = code.text();
    assert!(is_code(&text) && !is_code("Hearthjar record 1\n"));
    let long = format!("HEARTHJAR CODE 1 {} {}", 9_999, code.digits);
    for (text, error) in [
        (text.replace("CODE 1", "CODE 2"), ReadError::Newer(2)),
        (text.replace("CODE 1", "CODE one"), ReadError::Foreign),
        ("HEARTHJAR CODE".to_owned(), ReadError::Foreign),
        ("HEARTHJAR CODE 1".to_owned(), ReadError::Cut),
        (code.head.clone(), ReadError::Cut),
        (text[..text.len() - 1].to_owned(), ReadError::Cut),
        (format!("{text}0"), ReadError::Altered),
        (text.replace('7', "x"), ReadError::Altered),
        (long, ReadError::TooMany),
    ] {
        let found = read_any(&text).unwrap_err();
        assert_eq!(found, error, "{text}");
        assert!(found.to_string().ends_with('.'));
    }
}

#[test]
fn a_forged_code_cannot_nest_deep_or_count_far() {
    // Lists in lists, and a list of some 2^63 values.
    let head = [vec![7; 16], vec![1], vec![9; 16], vec![2, 2]].concat();
    for rest in [vec![0b110_00001; 3_000], [vec![0b110_11111], vec![0xff; 8], vec![0x7f]].concat()]
    {
        let mut packed = [head.clone(), rest].concat();
        packed.extend(&Sha256::digest(&packed)[..4].to_vec());
        assert_eq!(read_any(&code_of(&packed)), Err(ReadError::Altered));
    }
}

#[test]
fn a_usual_batch_fits_and_a_large_one_says_so() {
    let content = Text::new("Smoked whitefish, Lake Ostermere").unwrap();
    let begun = BatchStart { content, ..start() };
    for jars in [7, 20, 40] {
        let seals = vec![Seal::Sealed; jars];
        let count = u16::try_from(jars).unwrap();
        let (archive, _) = processed(random_id(7), begun.clone(), count, &seals);
        let events = archive.events(random_id(7));
        let code = Code::of(events).unwrap();
        println!(
            "{jars} jars: {} events, {} bytes as a file, {} digits, picture {:?}",
            events.len(),
            write(events).len(),
            code.digits.len(),
            picture(events).map(|picture| picture.side - 2 * QUIET)
        );
        assert_eq!(read_any(&code.text()).unwrap(), events);
        // A load of a small canner and of a large one pass; two dozen jars more do not.
        assert!(picture(events).is_ok() == (jars <= 20));
    }
    let picture = picture(processed(id(100), start(), 7, &[]).0.events(id(100))).unwrap();
    // ISO/IEC 18004: version n has 17 + 4 n modules a side.
    assert!(picture.side <= 17 + 4 * u16::from(LARGEST) + 2 * QUIET);
    assert_eq!((picture.side - 2 * QUIET - 17) % 4, 0);
    assert!(picture.path.starts_with(&format!("M{QUIET} {QUIET}h7v1h-7z")));
}

#[test]
fn a_number_that_would_come_back_tidied_is_not_packed() {
    let head = format!(r#""id":"{}","batch":"{}","seq":1"#, id(1), id(100));
    let plain = Event::parse(&format!(r#"{{{head},"at":0,"what":"x"}}"#)).unwrap();
    assert!(Code::of(&[plain]).is_some());
    let odd = Event::parse(&format!(r#"{{{head},"at":-0,"what":"x"}}"#)).unwrap();
    assert_eq!(odd.at(), EpochMs(0));
    assert!(Code::of(&[odd]).is_none());
}
