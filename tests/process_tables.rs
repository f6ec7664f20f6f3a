//! The finder against a second, independently typed transcription of the published
//! tables: `tests/tables/*.csv`, each row with its publication (USDA Complete Guide
//! to Home Canning, Agriculture Information Bulletin 539, revised 2015, Guides 1, 4
//! and 5; jar rules of NCHFP and K-State Extension).
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing)] // a failed test may panic

use hearthjar::process::{
    CannerQuarts, Food, Gauge, Jar, Pack, Question, RefusalKind, Vessel, find, foods, processes,
    search, tested_jar,
};
use hearthjar::units::{Altitude, Inches, Minutes, PsiGauge};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Rows of one of the tables by column name; no field of theirs holds a comma.
fn rows(name: &str) -> Vec<BTreeMap<String, String>> {
    let path = format!("{}/tests/tables/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    let head: Vec<&str> = lines.next().unwrap().split(',').collect();
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split(',').collect();
            assert_eq!(fields.len(), head.len(), "{name}: {line}");
            head.iter().zip(fields).map(|(h, f)| ((*h).to_owned(), f.to_owned())).collect()
        })
        .collect()
}

fn canner(gauge: Gauge, quarts: u8) -> Vessel {
    Vessel::PressureCanner { gauge, quarts: CannerQuarts::new(quarts).unwrap() }
}

fn feet(feet: i32) -> Altitude {
    Altitude::from_feet(feet).unwrap()
}

const GAUGES: [Gauge; 2] = [Gauge::Dial, Gauge::Weighted];

/// What the transcription prints for a gauge and an altitude.
fn printed(row: &BTreeMap<String, String>, gauge: Gauge, altitude: i32) -> PsiGauge {
    let column = match gauge {
        Gauge::Dial if altitude <= 2000 => "dial_2000",
        Gauge::Dial if altitude <= 4000 => "dial_4000",
        Gauge::Dial if altitude <= 6000 => "dial_6000",
        Gauge::Dial => "dial_8000",
        Gauge::Weighted if altitude <= 1000 => "weighted_1000",
        Gauge::Weighted => "weighted_above",
    };
    PsiGauge::whole(row[column].parse().unwrap())
}

/// The heading of the column it stands in, ft: from above (for the lowest band, from)
/// and up to; no end is printed for the upper weighted band.
fn heading(gauge: Gauge, altitude: i32) -> (i32, Option<i32>) {
    match gauge {
        Gauge::Dial if altitude <= 2000 => (0, Some(2000)),
        Gauge::Dial if altitude <= 4000 => (2000, Some(4000)),
        Gauge::Dial if altitude <= 6000 => (4000, Some(6000)),
        Gauge::Dial => (6000, Some(8000)),
        Gauge::Weighted if altitude <= 1000 => (0, Some(1000)),
        Gauge::Weighted => (1000, None),
    }
}

#[test]
fn every_row_at_every_altitude_on_both_gauges_is_as_printed() {
    let mut compared = 0;
    for row in rows("published") {
        let food = row["product_key"].as_str();
        let pack = Pack::from_key(&row["pack"]).unwrap();
        let jar = Jar::from_key(&row["jar"]).unwrap();
        for altitude in (0..=8000).step_by(100) {
            for gauge in GAUGES {
                for quarts in [16, 22] {
                    let vessel = canner(gauge, quarts);
                    let question = Question { food, pack, jar, vessel, altitude: feet(altitude) };
                    let tested = find(&question)
                        .unwrap_or_else(|refusal| panic!("{row:?}: refused, {}", refusal.reason()));
                    assert_eq!(tested.pressure(), printed(&row, gauge, altitude), "{question:?}");
                    assert_eq!(tested.band(), heading(gauge, altitude), "{question:?}");
                    let asked = (tested.gauge(), tested.jar(), tested.quarts());
                    assert_eq!(asked, (gauge, jar, quarts));
                    assert_eq!(tested.minutes(), Minutes(row["minutes"].parse().unwrap()));
                    let space = row["headspace_quarters"].parse().unwrap();
                    assert_eq!(tested.headspace(), Inches::quarters(space), "{question:?}");
                    assert_eq!(tested.vent(), Minutes(row["vent_minutes"].parse().unwrap()));
                    let warm = |name: &str| Minutes(row[name].parse().unwrap_or(0));
                    let process = tested.process();
                    assert_eq!(process.heat_before_vent(), warm("heat_before_vent_minutes"));
                    assert_eq!(process.heat_plus_vent(), warm("heat_plus_vent_minutes"));
                    assert!(process.publication().contains(&row["guide"]), "{question:?}");
                    assert!(process.publication().contains(&row["year"]), "{question:?}");
                    compared += 1;
                }
            }
        }
    }
    println!("{compared} answers compared with the transcription");
    assert!(compared > 50_000);
}

/// Every (food, pack, jar) that the finder answers, with its minutes.
fn answered() -> BTreeMap<(String, String, String), u16> {
    let mut answered = BTreeMap::new();
    for food in foods() {
        for pack in Pack::ALL {
            for jar in Jar::ALL {
                let vessel = canner(Gauge::Weighted, 16);
                let question = Question {
                    food: food.key(),
                    pack: *pack,
                    jar: *jar,
                    vessel,
                    altitude: feet(0),
                };
                if let Ok(tested) = find(&question) {
                    let key = (food.key().to_owned(), pack.key().to_owned(), jar.key().to_owned());
                    answered.insert(key, tested.minutes().0);
                }
            }
        }
    }
    answered
}

fn published() -> BTreeMap<(String, String, String), u16> {
    let key = |row: &BTreeMap<String, String>| {
        (row["product_key"].clone(), row["pack"].clone(), row["jar"].clone())
    };
    rows("published").iter().map(|row| (key(row), row["minutes"].parse().unwrap())).collect()
}

#[test]
fn a_refused_jar_leads_to_those_of_the_tables_only() {
    let published = published();
    let mut ways = 0;
    for food in foods() {
        for pack in Pack::ALL {
            // No low-acid food has a process in half-gallons (Guide 1, p. 1-13).
            let vessel = canner(Gauge::Dial, 16);
            let (jar, altitude) = (Jar::HalfGallon, feet(5_200));
            let question = Question { food: food.key(), pack: *pack, jar, vessel, altitude };
            let printed =
                published.keys().filter(|(one, how, _)| one == food.key() && how == pack.key());
            let printed: Vec<Jar> =
                printed.map(|(_, _, jar)| Jar::from_key(jar).unwrap()).collect();
            for asked in Jar::ALL {
                let largest = printed.iter().filter(|jar| *jar <= asked).max().copied();
                let question = Question { jar: *asked, ..question.clone() };
                assert_eq!(tested_jar(&question), largest, "{question:?}");
                ways += usize::from(find(&question).is_err() && largest.is_some());
            }
            // What no jar mends has no such way.
            for vessel in [Vessel::BoilingWater, Vessel::Multicooker] {
                assert_eq!(tested_jar(&Question { vessel, ..question.clone() }), None);
            }
            let altitude = feet(8_001);
            assert_eq!(tested_jar(&Question { altitude, ..question.clone() }), None);
        }
    }
    assert!(ways > 100, "{ways}");
}

#[test]
fn nothing_is_answered_beyond_the_tables_and_the_jar_rules() {
    let mut expected = published();
    // Other jars lie between two US sizes (NIST SP 430: half-pint 237 mL, pint 473,
    // quart 946) and take the larger one's time (NCHFP, Jar Size Choices Have You
    // Frustrated?; K-State Extension, 2022): 250 mL as a pint, 500 mL as 24 oz.
    for ((food, pack, jar), minutes) in published() {
        // 4 oz as a half-pint and 12 oz as a pint, by the same rule.
        let between: &[&str] = match jar.as_str() {
            "half-pint" => &["four-ounce"],
            "pint" => &["ml-250", "twelve-ounce"],
            "pint-and-half" => &["ml-500"],
            _ => &[],
        };
        for jar in between {
            expected.insert((food.clone(), pack.clone(), (*jar).to_owned()), minutes);
        }
    }
    let answered = answered();
    let beyond: Vec<_> = answered.iter().filter(|(k, m)| expected.get(*k) != Some(*m)).collect();
    let missing: Vec<_> = expected.iter().filter(|(k, m)| answered.get(*k) != Some(*m)).collect();
    assert!(beyond.is_empty() && missing.is_empty(), "beyond: {beyond:?}\nmissing: {missing:?}");
}

fn vessel(word: &str) -> Vessel {
    match word {
        "boiling-water" => Vessel::BoilingWater,
        "atmospheric-steam" => Vessel::AtmosphericSteam,
        "multicooker" => Vessel::Multicooker,
        "small-pressure-canner" => Vessel::SmallPressureCanner,
        "oven" => Vessel::Oven,
        other => {
            let (gauge, quarts) = other.split_once('-').unwrap();
            let quarts = quarts.strip_suffix("qt").unwrap().parse().unwrap();
            canner(if gauge == "dial" { Gauge::Dial } else { Gauge::Weighted }, quarts)
        }
    }
}

#[test]
fn every_question_that_must_be_refused_is_refused_for_its_reason() {
    let mut seen = BTreeSet::new();
    for row in rows("refused") {
        let word = row["product_key_or_food"].as_str();
        let Some(jar) = Jar::from_key(&row["jar"]) else {
            // A metal can is no jar here: the question cannot even be asked.
            assert_eq!(row["jar"], "metal-can");
            continue;
        };
        let food = match Food::by_key(word) {
            Some(food) => food.key(),
            // A food by its plain name: what the search offers for it as a food
            // without a process; nothing at all is a refusal too.
            None => search(&word.replace('-', " "))
                .into_iter()
                .find(|food| !food.has_process())
                .map_or("no such food", Food::key),
        };
        let question = Question {
            food,
            pack: Pack::from_key(&row["pack"]).unwrap(),
            jar,
            vessel: vessel(&row["vessel"]),
            altitude: feet(row["altitude_ft"].parse().unwrap()),
        };
        let refusal = match find(&question) {
            Ok(tested) => panic!("{row:?} was answered: {tested:?}"),
            Err(refusal) => refusal,
        };
        let kind = match row["reason_keyword"].as_str() {
            "food" => RefusalKind::Food,
            "vessel" => RefusalKind::Vessel,
            "altitude" => RefusalKind::Altitude,
            "pack" => RefusalKind::Pack,
            "jar" => RefusalKind::Jar,
            "capacity" => RefusalKind::Capacity,
            other => panic!("reason {other}"),
        };
        assert_eq!(refusal.kind(), kind, "{row:?}: {}", refusal.id());
        assert!(refusal.reason().len() > 20 && !refusal.instead().is_empty());
        assert!(!refusal.publication().is_empty());
        seen.insert(refusal.id());
    }
    // Refusals no row of the table asks for have their own questions here.
    for (food, jar, id) in [
        ("beans-lima", Jar::Quart, "lima-raw-quart"), // Guide 4, pp. 4-7 and 4-8
        ("meat-pieces", Jar::Ml1000, "metric-litre"), // Guide 1, p. 1-13; NIST SP 430
        ("fish-in-sauce", Jar::Pint, "fish-with-liquid"), // Guide 5, pp. 5-10 to 5-13
        ("large-game-other", Jar::Pint, "large-game-other"), // Guide 5, p. 5-6
        ("no such food", Jar::Pint, "unknown-food"),  // Guide 1, pp. 1-36 to 1-40
    ] {
        let vessel = canner(Gauge::Dial, 16);
        let question = Question { food, pack: Pack::Raw, jar, vessel, altitude: feet(0) };
        assert_eq!(find(&question).unwrap_err().id(), id);
        seen.insert(id);
    }
    let all: BTreeSet<_> = hearthjar::process::refusals().iter().map(|r| r.id()).collect();
    let untested: Vec<_> = all.difference(&seen).collect();
    assert!(untested.is_empty(), "refusals no test reaches: {untested:?}");
}

#[test]
fn the_jar_rules_give_the_larger_size_its_time() {
    for row in rows("conversions") {
        let vessel = canner(Gauge::Dial, 16);
        let question = Question {
            food: &row["product_key"],
            pack: Pack::from_key(&row["pack"]).unwrap(),
            jar: Jar::from_key(&row["jar"]).unwrap(),
            vessel,
            altitude: feet(1200),
        };
        let tested = find(&question).unwrap_or_else(|r| panic!("{row:?}: {}", r.reason()));
        assert_eq!(tested.minutes(), Minutes(row["minutes"].parse().unwrap()), "{row:?}");
    }
}

#[test]
fn smoked_fish_and_fish_in_quarts_bring_their_special_rules() {
    // Guide 5, p. 5-13: 4 quarts of cool water, 16 to 22 quart canners.
    let ask = |food, pack, jar, quarts| {
        let vessel = canner(Gauge::Dial, quarts);
        find(&Question { food, pack, jar, vessel, altitude: feet(5200) })
    };
    let smoked = ask("smoked-fish", Pack::Smoked, Jar::HalfPint, 16).unwrap();
    assert!(smoked.process().water().starts_with("4 qt"));
    assert_eq!(smoked.cautions().len(), 1);
    assert_eq!(ask("smoked-fish", Pack::Smoked, Jar::Pint, 23).unwrap().cautions().len(), 2);
    assert!(ask("smoked-fish", Pack::Smoked, Jar::Pint, 15).is_err());
    assert_eq!(ask("smoked-fish", Pack::Smoked, Jar::Pint, 22).unwrap().cautions().len(), 1);
    // Guide 5, pp. 5-10 and 5-11: plain pints have no rules of that kind.
    assert_eq!(ask("fish", Pack::Raw, Jar::Pint, 23).unwrap().cautions(), []);
    // Guide 5, pp. 5-11 and 5-12: 160 min, slow warm-up, wide-mouth quarts.
    let quarts = ask("fish", Pack::Raw, Jar::Quart, 16).unwrap();
    assert_eq!((quarts.minutes(), quarts.cautions().len()), (Minutes(160), 2));
    assert!(quarts.process().water().starts_with("3 qt"));
}

#[test]
fn below_sea_level_takes_the_lowest_band() {
    for gauge in GAUGES {
        let ask = |altitude| {
            let vessel = canner(gauge, 16);
            let (pack, jar) = (Pack::Raw, Jar::Pint);
            find(&Question { food: "fish", pack, jar, vessel, altitude: feet(altitude) }).unwrap()
        };
        assert_eq!(ask(-1400), ask(0));
    }
}

#[test]
fn every_food_leads_somewhere() {
    for food in foods() {
        assert_eq!(food.packs().next().is_some(), food.has_process(), "{}", food.key());
        assert!(search(food.name()).iter().any(|found| found.key() == food.key()));
    }
    assert_eq!(search("walleye").first().map(|food| food.key()), Some("lean-fish"));
    assert!(search("xyzzy").is_empty());
    assert_eq!(search("").len(), foods().len());
}

fn any_question() -> impl Strategy<Value = (usize, usize, usize, u8, bool, i32)> {
    (
        0..foods().len(),
        0..Pack::ALL.len(),
        0..Jar::ALL.len(),
        4_u8..=60,
        any::<bool>(),
        -1500..30_001,
    )
}

proptest! {
    #[test]
    fn an_answer_is_one_printed_row_and_never_shorter(
        (food, pack, jar, quarts, dial, altitude) in any_question(),
    ) {
        let gauge = if dial { Gauge::Dial } else { Gauge::Weighted };
        let ask = |altitude: i32| find(&Question {
            food: foods()[food].key(),
            pack: Pack::ALL[pack],
            jar: Jar::ALL[jar],
            vessel: canner(gauge, quarts),
            altitude: feet(altitude),
        });
        match ask(altitude) {
            Ok(tested) => {
                prop_assert!(altitude <= 8000);
                let row = processes().iter().find(|row| row.id() == tested.process().id()).unwrap();
                prop_assert_eq!(tested.minutes(), row.minutes());
                prop_assert!(tested.pressure() <= PsiGauge::whole(15));
                prop_assert!(tested.pressure() >= row.lowest_pressure(gauge));
                // Higher up the time is the same and the pressure no lower.
                if let Ok(higher) = ask((altitude + 700).min(8000)) {
                    prop_assert_eq!(higher.minutes(), tested.minutes());
                    prop_assert!(higher.pressure() >= tested.pressure());
                }
            }
            Err(refusal) => {
                if altitude > 8000 && foods()[food].has_process() {
                    prop_assert_eq!(refusal.kind(), RefusalKind::Altitude);
                }
            }
        }
    }
}
