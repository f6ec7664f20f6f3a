//! Turns the readable tables of this folder into static Rust tables.
//!
//! Invariant: a malformed row stops the build and is named; nothing is guessed
//! or filled in.
#![allow(clippy::panic, clippy::string_slice, clippy::indexing_slicing)] // a bad row stops the build

#[path = "../../words/build.rs"]
mod words;

use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;
use std::{env, fs};
use words::Catalogue;

const GROUPS: [&str; 6] = ["fish", "shellfish", "meat", "poultry", "stock-soup", "vegetables"];
const PACKS: [&str; 4] = ["raw", "hot", "smoked", "precooked"];
const STEPS: [&str; 4] = ["keep", "prepare", "fill", "open"];
const JARS: [&str; 5] = ["half-pint", "twelve-ounce", "pint", "pint-and-half", "quart"];
const KINDS: [&str; 6] = ["food", "vessel", "altitude", "pack", "jar", "capacity"];
const FOOD_GROUPS: [&str; 7] =
    ["fish", "shellfish", "meat", "poultry", "stock", "soup", "vegetable"];

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    id: String,
    product: String,
    pack: String,
    jars: Vec<String>,
    jars_in_table: Vec<String>,
    minutes: u16,
    dial: Vec<Band>,
    weighted: Vec<Band>,
    headspace_quarters: u8,
    vent: u16,
    #[serde(default)]
    heat_before_vent: u16,
    #[serde(default)]
    heat_plus_vent: u16,
    canner_quarts: Option<(u8, u8)>,
    water: String,
    publication: String,
    guide: String,
    pages: String,
    year: u16,
    also: Option<String>,
    cross_check: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Band {
    to_ft: Option<i32>,
    psi: u8,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Food {
    key: String,
    name: String,
    short: String,
    group: String,
    aka: Vec<String>,
    refusal: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Refusal {
    id: String,
    kind: String,
    reason: String,
    instead: String,
    publication: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Rule {
    id: String,
    /// Not needed while a load is canned and checked: kept apart, so that the page's
    /// smaller half carries only the others.
    #[serde(default)]
    later: bool,
    text: String,
    publication: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Note {
    of: Vec<String>,
    #[serde(default)]
    jars: Vec<String>,
    at: String,
    text: String,
    publication: Option<String>,
}

impl Note {
    /// Whether the note is for a row whose food is of a group.
    fn is_for(&self, row: &Row, group: &str) -> bool {
        let place = format!("{}/{}", row.product, row.pack);
        let of = |of: &String| match of.strip_prefix("group:") {
            Some(named) => named == group,
            None => *of == "*" || *of == place || *of == format!("{}/*", row.product),
        };
        self.of.iter().any(of)
            && (self.jars.is_empty() || self.jars.iter().any(|jar| row.jars.contains(jar)))
    }
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
struct File {
    note: Vec<Note>,
    process: Vec<Row>,
    food: Vec<Food>,
    refusal: Vec<Refusal>,
    rule: Vec<Rule>,
}

fn main() {
    let dir = Path::new("src/process/data");
    println!("cargo::rerun-if-changed={}", dir.display());
    let mut all = File::default();
    for name in GROUPS.into_iter().chain(["foods", "preparation", "refusals", "rules"]) {
        let path = dir.join(format!("{name}.toml"));
        let text =
            fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let file: File =
            toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        all.note.extend(file.note);
        all.process.extend(file.process);
        all.food.extend(file.food);
        all.refusal.extend(file.refusal);
        all.rule.extend(file.rule);
    }
    check(&all);
    let words = Catalogue::read(Path::new("src/words"));
    let out = env::var("OUT_DIR").unwrap_or_else(|error| panic!("OUT_DIR: {error}"));
    for (name, code) in [("tables.rs", write(&all, &words)), ("words.rs", words.code())] {
        let path = Path::new(&out).join(name);
        fs::write(&path, code).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    }
}

fn check(all: &File) {
    unique(all.process.iter().map(|row| &row.id), "process");
    unique(all.food.iter().map(|food| &food.key), "food");
    unique(all.refusal.iter().map(|refusal| &refusal.id), "refusal");
    unique(all.rule.iter().map(|rule| &rule.id), "rule");
    let foods: BTreeMap<&str, &Food> = all.food.iter().map(|f| (f.key.as_str(), f)).collect();
    let refusals: BTreeSet<&str> = all.refusal.iter().map(|r| r.id.as_str()).collect();
    let mut answered = BTreeSet::new();
    let mut taken = BTreeSet::new();
    for row in &all.process {
        let at = &row.id;
        let food = foods.get(row.product.as_str());
        assert!(food.is_some_and(|f| f.refusal.is_none()), "{at}: product without a food row");
        answered.insert(row.product.as_str());
        known(&row.pack, &PACKS, at);
        assert!(!row.jars.is_empty() && !row.jars_in_table.is_empty(), "{at}: no jars");
        for jar in row.jars.iter().chain(&row.jars_in_table) {
            known(jar, &JARS, at);
        }
        for jar in &row.jars {
            let place = (row.product.clone(), row.pack.clone(), jar.clone());
            assert!(taken.insert(place), "{at}: {jar} answered by two rows");
        }
        assert!((10..=240).contains(&row.minutes), "{at}: minutes {}", row.minutes);
        assert!(row.vent == 10, "{at}: vent {}", row.vent);
        assert!((4..=6).contains(&row.headspace_quarters), "{at}: headspace");
        assert!(row.heat_plus_vent == 0 || row.heat_plus_vent >= row.vent, "{at}: warm-up");
        if let Some((from, to)) = row.canner_quarts {
            assert!(from < to && to <= 30, "{at}: canner quarts");
        }
        bands(&row.dial, true, at);
        bands(&row.weighted, false, at);
        sentence(&row.water, at);
        sentence(&row.cross_check, at);
        assert!(row.publication.len() > 8 && !row.guide.is_empty(), "{at}: publication");
        assert!(!row.pages.is_empty() && (1990..2030).contains(&row.year), "{at}: pages or year");
    }
    check_notes(all);
    for food in &all.food {
        known(&food.group, &FOOD_GROUPS, &food.key);
        match &food.refusal {
            Some(id) => assert!(refusals.contains(id.as_str()), "{}: refusal {id}", food.key),
            None => assert!(answered.contains(food.key.as_str()), "{}: no process", food.key),
        }
    }
    for refusal in &all.refusal {
        known(&refusal.kind, &KINDS, &refusal.id);
        for text in [&refusal.reason, &refusal.instead, &refusal.publication] {
            sentence(text, &refusal.id);
        }
    }
    for rule in &all.rule {
        sentence(&rule.text, &rule.id);
        sentence(&rule.publication, &rule.id);
    }
}

/// Every note is for some row, and every row has what to do before and at filling.
fn check_notes(all: &File) {
    let group = |row: &Row| group_of(all, row);
    for note in &all.note {
        known(&note.at, &STEPS, &note.text);
        sentence(&note.text, &note.text);
        note.publication.iter().for_each(|text| sentence(text, &note.text));
        for of in &note.of {
            let one = Note { of: vec![of.clone()], jars: note.jars.clone(), ..blank() };
            let met = all.process.iter().any(|row| one.is_for(row, group(row)));
            assert!(met, "note for {of}: no such row");
        }
        note.jars.iter().for_each(|jar| known(jar, &JARS, &note.text));
    }
    for row in &all.process {
        let fills = |note: &Note| note.at == "fill" && note.is_for(row, group(row));
        assert!(all.note.iter().any(fills), "{}: no filling", row.id);
    }
}

fn blank() -> Note {
    Note { of: vec![], jars: vec![], at: String::new(), text: String::new(), publication: None }
}

fn group_of<'a>(all: &'a File, row: &Row) -> &'a str {
    all.food.iter().find(|food| food.key == row.product).map_or("", |food| &food.group)
}

fn unique<'a>(ids: impl Iterator<Item = &'a String>, what: &str) {
    let mut seen = BTreeSet::new();
    for id in ids {
        let plain = id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        assert!(plain, "{what} {id}: letters a to z, digits and hyphens only");
        assert!(seen.insert(id), "{what} {id}: twice");
    }
}

fn known(word: &str, words: &[&str], at: &str) {
    assert!(words.contains(&word), "{at}: unknown word {word}");
}

fn sentence(text: &str, at: &str) {
    assert!((3..=600).contains(&text.len()), "{at}: text of {} characters", text.len());
}

/// Bands climb in altitude and never fall in pressure; a dial table ends at a
/// printed altitude, a weighted one with "above".
fn bands(bands: &[Band], ends: bool, at: &str) {
    assert!(!bands.is_empty(), "{at}: no bands");
    for (index, band) in bands.iter().enumerate() {
        let last = index + 1 == bands.len();
        assert!((5..=15).contains(&band.psi), "{at}: {} psi", band.psi);
        assert!(band.to_ft.is_some() || (last && !ends), "{at}: band without an end");
        assert!(band.to_ft.is_none() || ends || !last, "{at}: weighted bands must not end");
        if let Some(next) = bands.get(index + 1) {
            assert!(next.psi >= band.psi, "{at}: pressure falls with altitude");
            assert!(next.to_ft.is_none_or(|to| Some(to) > band.to_ft), "{at}: bands out of order");
        }
    }
}

fn camel(word: &str) -> String {
    word.split('-').map(|part| part[..1].to_uppercase() + &part[1..]).collect()
}

fn band_list(bands: &[Band]) -> String {
    let items: Vec<String> = bands
        .iter()
        .map(|b| format!("Band {{ to_ft: {:?}, psi: PsiGauge::whole({}) }}", b.to_ft, b.psi))
        .collect();
    format!("&[{}]", items.join(", "))
}

fn write(all: &File, words: &Catalogue) -> String {
    let word = |text: &String| words.word(text);
    let maybe = |text: &Option<String>| match text {
        Some(text) => format!("Some({})", words.word(text)),
        None => "None".to_owned(),
    };
    let mut out = String::new();
    let mut line = |text: String| {
        let _ = writeln!(out, "{text}");
    };
    for (number, note) in all.note.iter().enumerate() {
        line(format!(
            "static NOTE_{number}: Note = Note {{ at: PrepStep::{}, text: {}, publication: {} }};",
            camel(&note.at),
            word(&note.text),
            maybe(&note.publication)
        ));
    }
    line("pub(super) static PROCESSES: &[Process] = &[".into());
    for row in &all.process {
        let jars: Vec<String> = row.jars.iter().map(|jar| format!("Jar::{}", camel(jar))).collect();
        // In the order of the work; within a step as the file has them.
        let mut notes = String::new();
        for step in STEPS {
            for (number, note) in all.note.iter().enumerate() {
                if note.at == step && note.is_for(row, group_of(all, row)) {
                    let _ = write!(notes, "&NOTE_{number}, ");
                }
            }
        }
        let also = row.also.as_ref().map_or(String::new(), |also| format!("; {also}"));
        line(format!(
            "Process {{ id: {:?}, product: {:?}, pack: Pack::{}, jars: &[{}], minutes: \
             Minutes({}), dial: {}, weighted: {}, headspace: Inches::quarters({}), vent: \
             Minutes({}), heat_before_vent: Minutes({}), heat_plus_vent: Minutes({}), \
             canner_quarts: {:?}, water: {}, notes: &[{notes}], publication: {} }},",
            row.id,
            row.product,
            camel(&row.pack),
            jars.join(", "),
            row.minutes,
            band_list(&row.dial),
            band_list(&row.weighted),
            row.headspace_quarters,
            row.vent,
            row.heat_before_vent,
            row.heat_plus_vent,
            row.canner_quarts,
            word(&row.water),
            word(&format!(
                "{}, {}, {} {}, {}{also}",
                row.publication,
                row.guide,
                if row.pages.contains(' ') { "pp." } else { "p." },
                row.pages,
                row.year
            )),
        ));
    }
    line("];".into());
    line("pub(super) static FOODS: &[Food] = &[".into());
    for food in &all.food {
        line(format!(
            "Food {{ key: {:?}, name: {}, short: {}, group: Group::{}, aka: &[{}], refusal: \
             {:?} }},",
            food.key,
            word(&food.name),
            word(&food.short),
            camel(&food.group),
            food.aka.iter().map(word).collect::<Vec<_>>().join(", "),
            food.refusal
        ));
    }
    line("];".into());
    line("pub(super) static REFUSALS: &[Refusal] = &[".into());
    for refusal in &all.refusal {
        line(format!(
            "Refusal {{ id: {:?}, kind: RefusalKind::{}, reason: {}, instead: {}, publication: {} \
             }},",
            refusal.id,
            camel(&refusal.kind),
            word(&refusal.reason),
            word(&refusal.instead),
            word(&refusal.publication)
        ));
    }
    line("];".into());
    for (name, later) in [("RULES", false), ("LATER_RULES", true)] {
        line(format!("pub(super) static {name}: &[Rule] = &["));
        for rule in all.rule.iter().filter(|rule| rule.later == later) {
            line(format!(
                "Rule {{ id: {:?}, text: {}, publication: {} }},",
                rule.id,
                word(&rule.text),
                word(&rule.publication)
            ));
        }
        line("];".into());
    }
    out
}
