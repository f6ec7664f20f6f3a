//! What is said of preparation, both ways against `tests/tables/preparation.csv`,
//! which was typed rule by rule from readings of the publications it names (USDA
//! Complete Guide to Home Canning, 2015, Guides 1, 4 and 5; extension bulletins).
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic)] // a failed test may panic

use hearthjar::process::{Food, Group, Jar, PrepStep, Process, processes};
use std::collections::BTreeSet;

struct Row {
    of: Vec<(String, Option<String>)>,
    at: PrepStep,
    words: Vec<String>,
    line: String,
}

fn rows() -> Vec<Row> {
    let path = format!("{}/tests/tables/preparation.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let lines = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty()).skip(1);
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split(';').collect();
            assert_eq!(fields.len(), 4, "{line}");
            let at = match fields[1] {
                "keep" => PrepStep::Keep,
                "prepare" => PrepStep::Prepare,
                "fill" => PrepStep::Fill,
                "open" => PrepStep::Open,
                other => panic!("{other}: {line}"),
            };
            let of = fields[0].split(',').map(|of| match of.split_once('@') {
                Some((of, jar)) => (of.to_owned(), Some(jar.to_owned())),
                None => (of.to_owned(), None),
            });
            let words = fields[2].split('|').map(str::to_lowercase).collect();
            Row { of: of.collect(), at, words, line: line.to_owned() }
        })
        .collect()
}

const fn group_key(group: Group) -> &'static str {
    match group {
        Group::Fish => "fish",
        Group::Shellfish => "shellfish",
        Group::Meat => "meat",
        Group::Poultry => "poultry",
        Group::Stock => "stock",
        Group::Soup => "soup",
        Group::Vegetable => "vegetable",
    }
}

impl Row {
    fn is_for(&self, process: &Process) -> bool {
        let group = group_key(Food::by_key(process.product()).unwrap().group());
        self.of.iter().any(|(of, jar)| {
            let jar = jar.as_ref().map(|jar| Jar::from_key(jar).unwrap());
            let own = format!("{}/{}", process.product(), process.pack().key());
            let any = format!("{}/*", process.product());
            let named = *of == "*" || *of == own || *of == any || *of == format!("group:{group}");
            named && jar.is_none_or(|jar| process.jars().contains(&jar))
        })
    }

    /// Whether all its words and numbers stand in a line.
    fn stands_in(&self, line: &str) -> bool {
        let numbers = numbers(line);
        self.words.iter().all(|word| match word.parse::<f64>() {
            Ok(number) => numbers.contains(&milli(number)),
            // Units and other very short words as words of their own.
            Err(_) if word.len() <= 3 => {
                line.split(|c: char| !c.is_alphanumeric()).any(|own| own == word)
            }
            Err(_) => line.contains(word.as_str()),
        })
    }
}

fn milli(number: f64) -> i64 {
    (number * 1000.0).round() as i64
}

/// A line in the words of the table: lower case, units short, metric equivalents in
/// brackets left out, fractions as decimals.
fn plain(text: &str) -> String {
    let mut line = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('(') {
        let (inside, behind) = after.split_once(')').unwrap();
        let unit = inside.rsplit(' ').next().unwrap();
        let digit = inside.bytes().any(|b| b.is_ascii_digit());
        line.push_str(before);
        if !(digit && ["cm", "mm", "m", "C", "g", "kg", "L"].contains(&unit)) {
            line.push_str(inside);
        }
        rest = behind;
    }
    line.push_str(rest);
    let mut line = line.to_lowercase();
    for (long, short) in [
        (" 1/2", ".5"),
        (" 1/4", ".25"),
        (" 3/4", ".75"),
        ("1/2", "0.5"),
        ("1/4", "0.25"),
        ("3/4", "0.75"),
        ("1/8", "0.125"),
        ("hours", "h"),
        ("hour", "h"),
        ("minutes", "min"),
    ] {
        // "2 1/2" is 2.5, but "holding 1/2" is 0.5.
        if let Some(fraction) = long.strip_prefix(' ') {
            for digit in '0'..='9' {
                line = line.replace(&format!("{digit} {fraction}"), &format!("{digit}{short}"));
            }
        } else {
            line = line.replace(long, short);
        }
    }
    line
}

fn numbers(line: &str) -> BTreeSet<i64> {
    line.split(|c: char| !c.is_ascii_digit() && c != '.')
        .map(|word| word.trim_matches('.'))
        .filter(|word| !word.is_empty())
        .map(|word| milli(word.parse().unwrap()))
        .collect()
}

#[test]
fn fractions_and_metric_equivalents_are_read_right() {
    assert_eq!(plain("Cut into 3 1/2 in (9 cm) lengths"), "cut into 3.5 in  lengths");
    assert_eq!(plain("1/2 tsp or 2 hours (up to 1 cup)"), "0.5 tsp or 2 h up to 1 cup");
    assert_eq!(numbers("5 to 7 min in a 0.25, 1."), BTreeSet::from([250, 1000, 5000, 7000]));
}

#[test]
fn every_published_rule_is_shown_at_its_step() {
    let mut checked = 0;
    let mut missing = Vec::new();
    for row in rows() {
        let mut met = 0;
        for process in processes().iter().filter(|process| row.is_for(process)) {
            let lines: Vec<String> = process.notes_at(row.at).map(|n| plain(n.text())).collect();
            if !lines.iter().any(|line| row.stands_in(line)) {
                missing.push(format!("{}: {}", process.id(), row.line));
            }
            met += 1;
        }
        assert!(met > 0, "for nothing: {}", row.line);
        checked += met;
    }
    assert!(missing.is_empty(), "{missing:#?}");
    println!("{checked} rules found at their step");
    assert!(checked > 500);
}

#[test]
fn nothing_is_shown_that_no_rule_asks_for() {
    let rows = rows();
    let mut extra = Vec::new();
    for process in processes() {
        for note in process.notes() {
            let line = plain(note.text());
            let mut known = BTreeSet::new();
            let mut rules = 0;
            for row in rows.iter().filter(|row| row.at == note.at() && row.is_for(process)) {
                if row.stands_in(&line) {
                    rules += 1;
                    known.extend(row.words.iter().filter_map(|w| w.parse().ok()).map(milli));
                }
            }
            let beyond: Vec<_> = numbers(&line).difference(&known).copied().collect();
            if rules == 0 || !beyond.is_empty() {
                extra.push(format!("{}: {beyond:?} thousandths in {line}", process.id()));
            }
        }
    }
    assert!(extra.is_empty(), "{extra:#?}");
}

#[test]
fn every_group_has_its_rules_for_every_step_of_the_work() {
    for process in processes() {
        assert!(process.notes_at(PrepStep::Fill).count() > 0, "{}", process.id());
        let ordered = process.notes().windows(2).all(|pair| pair[0].at() <= pair[1].at());
        assert!(ordered, "{}: notes out of order", process.id());
        for note in process.notes() {
            assert!(note.publication().is_none_or(|text| text.len() > 8), "{}", note.text());
        }
    }
    // A row that sends a jar its own way: crab's acid (Guide 5, p. 5-9).
    let text = |id: &str| {
        let process = hearthjar::process::by_id(id).unwrap();
        process.notes().iter().map(|note| note.text()).collect::<Vec<_>>().join(" ")
    };
    assert!(text("crab-pint").contains("4 tbsp lemon") && !text("crab-pint").contains("6 oz"));
    assert!(
        text("fish-raw-quart").contains("Jar-length") && !text("fish-raw-quart").contains("3 1/2")
    );
}
