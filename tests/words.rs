//! The catalogue of texts: how it is numbered, what the build refuses, and that no
//! translation loses a number.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, clippy::string_slice)] // a failed test may panic

#[path = "../src/words/build.rs"]
mod build;
#[path = "common/catalogue.rs"]
mod catalogue;

use build::Catalogue;
use catalogue::{FILES, fnv, folder, language, pairs};
use hearthjar::words::Word;
use std::path::PathBuf;
use std::process::Command;

// draft-eastlake-fnv, section 6 (test vectors for FNV-1a, 64 bits).
#[test]
fn the_hash_is_the_published_one() {
    assert_eq!(fnv(b""), "cbf29ce484222325");
    assert_eq!(fnv(b"a"), "af63dc4c8601ec8c");
    assert_eq!(fnv(b"foobar"), "85944171f73967e8");
}

#[test]
fn a_text_has_the_number_of_its_line() {
    let (all, built) = (pairs(), Catalogue::read(folder()));
    for (number, pair) in all.iter().enumerate() {
        let word = Word::of(&pair.english);
        assert_eq!(format!("{word:?}"), format!("Word({number})"), "{}", pair.english);
        assert_eq!(built.word(&pair.english), format!("Word::at({number})"));
        assert_eq!(word.say(), pair.shown());
    }
    let first = all.iter().filter(|pair| FILES[0].contains(&pair.file)).count();
    let code = built.code();
    assert!(code.contains(&format!("const FIRST: usize = {first};")));
    let named: String = all.iter().map(|pair| format!("{}\n", pair.english)).collect();
    assert!(code.contains(&format!("const NAME: &str = \"{}\";", fnv(named.as_bytes()))));
}

/// Needs node, as the page's build does; without it only the library is numbered.
#[test]
fn the_page_gets_the_same_texts_in_the_same_order() {
    let script = "const { words } = await import(process.argv[1]); \
                  console.log(JSON.stringify(words()));";
    let module = concat!("file://", env!("CARGO_MANIFEST_DIR"), "/.ci/words.mjs");
    let ran = Command::new("node").args(["--input-type=module", "-e", script, module]).output();
    let Ok(ran) = ran else {
        println!("no node here: not compared");
        return;
    };
    assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
    let files: serde_json::Value = serde_json::from_slice(&ran.stdout).unwrap();
    let file = |name: &str| files.get(name).unwrap().as_str().unwrap().to_owned();
    let english = language(|pair| pair.shown().to_owned());
    let spanish = language(|pair| match pair.spanish.as_str() {
        "" => pair.shown().to_owned(),
        spanish => spanish.to_owned(),
    });
    assert_eq!(file("en") + &file("en-later"), english);
    assert_eq!(file("es") + &file("es-later"), spanish);
}

/// The numbers of a text in order of value, without the marks between thousands and
/// without those of its gaps.
fn numbers(text: &str) -> Vec<String> {
    let mut plain = String::new();
    for part in text.split('{') {
        plain.push_str(part.split_once('}').map_or(part, |(_, rest)| rest));
        plain.push(' ');
    }
    let letters: Vec<char> = plain.chars().collect();
    let digit = |at: usize| letters.get(at).is_some_and(char::is_ascii_digit);
    let mut found = vec![String::new()];
    for (at, letter) in letters.iter().enumerate() {
        let inside = at > 0 && digit(at - 1) && digit(at + 1);
        let thousands = inside && (1..=3).all(|next| digit(at + next)) && !digit(at + 4);
        match letter {
            digit if digit.is_ascii_digit() => found.last_mut().unwrap().push(*digit),
            ',' if thousands => {}
            '.' | '/' if inside => found.last_mut().unwrap().push(*letter),
            _ => found.push(String::new()),
        }
    }
    found.retain(|number| !number.is_empty());
    found.sort_by_key(|number| (number.len(), number.clone()));
    found
}

#[test]
fn numbers_are_found() {
    assert_eq!(numbers("8,000 ft (2,438 m), 3 1/2 in"), ["3", "1/2", "2438", "8000"]);
    assert_eq!(numbers("{0} of {} at 2.5 cm, 7."), ["7", "2.5"]);
    assert_eq!(numbers("5-10, 5-11"), ["5", "5", "10", "11"]);
}

#[test]
fn every_translation_keeps_the_numbers() {
    let off: Vec<_> = pairs()
        .into_iter()
        .filter(|pair| !pair.spanish.is_empty())
        .filter(|pair| numbers(pair.shown()) != numbers(&pair.spanish))
        .map(|pair| format!("{}: {} | {}", pair.file, pair.english, pair.spanish))
        .collect();
    assert!(off.is_empty(), "{}", off.join("\n"));
}

/// A comma between digits marks the decimals to half of those who read Spanish: 1,000 ft
/// would be one foot to them (Ortografía de la lengua española, 2010, on numbers: no comma
/// between thousands; from memory).
#[test]
fn no_spanish_number_has_a_comma() {
    for pair in pairs() {
        let letters: Vec<char> = pair.spanish.chars().collect();
        let comma = letters
            .windows(3)
            .any(|three| three[1] == ',' && three[0].is_ascii_digit() && three[2].is_ascii_digit());
        assert!(!comma, "{}: {}", pair.file, pair.spanish);
    }
}

/// A sentence that forbids stays one that forbids. Held against the app's own list of
/// words for it in both languages.
#[test]
fn every_never_stays_a_never() {
    let says = |text: &str, words: &[&str]| {
        let text = text.to_lowercase();
        text.split(|c: char| !c.is_alphabetic()).any(|word| words.contains(&word))
    };
    for pair in pairs().iter().filter(|pair| !pair.spanish.is_empty()) {
        if says(pair.shown(), &["never"]) {
            let kept = says(&pair.spanish, &["nunca", "jamás", "ningún", "ninguna"]);
            assert!(kept, "{} | {}", pair.english, pair.spanish);
        }
    }
}

/// A folder with the files of a catalogue, empty but for one.
fn folder_with(name: &str, file: &str, text: &str) -> PathBuf {
    let folder =
        std::env::temp_dir().join(format!("hearthjar-words-{}-{name}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    for name in FILES.into_iter().flatten() {
        let text = if *name == file { text } else { "" };
        std::fs::write(folder.join(format!("{name}.toml")), text).unwrap();
    }
    folder
}

/// What stops the build on such a file, if anything does.
fn stopped_by(name: &str, file: &str, text: &str) -> Option<String> {
    let folder = folder_with(name, file, text);
    let read = std::panic::catch_unwind(|| Catalogue::read(&folder).code());
    std::fs::remove_dir_all(&folder).unwrap();
    let error = read.err()?;
    Some(error.downcast_ref::<String>().unwrap().clone())
}

#[test]
fn a_sound_file_is_taken() {
    let text = "# Remark.\n\n\"{} of {} jars\" = \"de {1} frascos, {0}\"\n\"Fish\" = \"Pescado\"\n";
    assert_eq!(stopped_by("sound", "stove", text), None);
}

#[test]
fn the_build_stops_at_other_gaps() {
    for (name, spanish) in [("less", "{} frascos"), ("more", "{} {} {}"), ("other", "{0} y {0}")] {
        let text = format!("\"Fish\" = \"Pescado\"\n\"{{}} of {{}} jars\" = \"{spanish}\"\n");
        let why = stopped_by(name, "stove", &text).unwrap();
        assert!(why.contains("stove.toml:2") && why.contains("other gaps"), "{why}");
    }
}

#[test]
fn the_build_stops_at_a_text_twice() {
    let why = stopped_by("twice", "app", "\"Fish\" = \"Pescado\"\n\"Fish\" = \"Pez\"\n").unwrap();
    assert!(why.contains("app.toml:2") && why.contains("already"), "{why}");
}

#[test]
fn the_build_stops_at_an_empty_translation_but_of_a_publication() {
    let why = stopped_by("empty", "later", "\"Fish\" = \"\"\n").unwrap();
    assert!(why.contains("later.toml:1") && why.contains("no translation: Fish"), "{why}");
    assert_eq!(stopped_by("cited", "publications", "\"NIST SP 430\" = \"\"\n"), None);
}
