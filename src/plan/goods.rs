//! What to buy, to lay out and to look at before the day.
//!
//! Invariant: amounts are for the most jars planned; each line has a key that stays
//! the same, so that its tick survives a change of the plan.

use super::draft::{Draft, Field, Food};
use super::ranged::{Origin, Range};
use super::sheet::Sheet;
use super::yields::yield_of;
use crate::process::{Food as Catalogue, Jar, Pack};
use crate::t;
use crate::units::{decimal, with_tenth};
use crate::w;
use crate::words::Word;

/// One line of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Good {
    /// Its stable key.
    pub key: String,
    /// What it is.
    pub what: String,
    /// How much.
    pub amount: String,
    /// Where that comes from.
    pub origin: Origin,
}

const LIDS: Word =
    w!("USDA Complete Guide to Home Canning, Guide 1, pp. 1-13 to 1-16, 2015 (a flat lid is used \
     once; bands again if sound)");
const CHECKS: Word =
    w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015; PNW 421, pp. 7-8");
const RIMS: Word = w!("Univ. of Alaska Fairbanks Extension FNH-00128, Canning the Catch");
const DIALS: Word = w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015");
const BRINE: Word =
    w!("Kitsap Cooperative Extension, October 1992 (1 cup salt and 7 cups water for 2 to 3 lb of \
     fish)");
const CRAB: Word = w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-9, 2015");

/// How the rims of a food are wiped, and where that is printed: the smoked fish page
/// asks only for the damp towel.
const fn wipes(food: &str) -> Option<(Word, Word)> {
    const FISH: Word = w!("USDA Complete Guide to Home Canning, Guide 5, pp. 5-10 and 5-11, 2015");
    const SMOKED: Word = w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-13, 2015");
    const TUNA: Word = w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-14, 2015");
    match food.as_bytes() {
        b"fish" => Some((w!("damp, then dry"), FISH)),
        b"smoked-fish" => Some((w!("damp##wipe"), SMOKED)),
        b"tuna" => Some((w!("damp, then dry"), TUNA)),
        _ => None,
    }
}

/// Salt for taste in one jar, quarter teaspoons, where the publication prints it.
const fn salt(food: &str, jar: Jar) -> Option<(u32, u32, Word)> {
    const FISH: Word =
        w!("USDA Complete Guide to Home Canning, Guide 5, pp. 5-10 and 5-11, 2015 (optional, for \
         taste)");
    const TUNA: Word =
        w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-14, 2015 (optional, for taste)");
    const OYSTERS: Word =
        w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-12, 2015 (optional, for taste)");
    match (food.as_bytes(), jar) {
        (b"fish", Jar::Pint) => Some((4, 4, FISH)),
        (b"fish", Jar::Quart) => Some((4, 8, FISH)),
        (b"tuna", Jar::HalfPint) => Some((2, 2, TUNA)),
        (b"tuna", Jar::Pint) => Some((4, 4, TUNA)),
        (b"oysters", Jar::Pint) => Some((2, 2, OYSTERS)),
        _ => None,
    }
}

/// Teaspoons from quarters, with tablespoons or millilitres beside them.
fn spoons(quarters: u32, metric: bool) -> String {
    let teaspoons = match (quarters / 4, quarters % 4) {
        (0, part) => quarter(part).to_owned(),
        (whole, 0) => whole.to_string(),
        (whole, part) => format!("{whole} {}", quarter(part)),
    };
    // 1 US teaspoon is 4.93 mL, a third of a tablespoon (NIST SP 811).
    if metric {
        t!("{} tsp ({} mL)", teaspoons, (quarters * 493 + 200) / 400)
    } else if quarters >= 24 {
        t!("{} tsp (about {} tbsp)", teaspoons, (quarters + 6) / 12)
    } else {
        t!("{} tsp", teaspoons)
    }
}

const fn quarter(part: u32) -> &'static str {
    match part {
        1 => "1/4",
        2 => "1/2",
        3 => "3/4",
        _ => "0",
    }
}

/// The list of a plan.
#[must_use]
pub fn goods(draft: &Draft, sheet: &Sheet) -> Vec<Good> {
    let mut list = Vec::new();
    let mut add = |key: String, what: &str, amount: String, origin: Origin| {
        list.push(Good { key, what: what.to_owned(), amount, origin });
    };
    let (food, metric) = (draft.food.as_str(), draft.metric);
    if let Some(range) = sheet.food
        && draft.by == Food::Jars
        && let Some(need) = sheet.needs.first()
    {
        let name = Catalogue::by_key(food).map_or(t!("Food"), Catalogue::short);
        let weighed = yield_of(food).filter(|found| found.basis == draft.basis);
        let weighed = weighed.map_or(String::new(), |found| format!(", {}", found.weighed.say()));
        let (least, most) = (range.least().number(metric), range.most().show(metric));
        let amount = match sheet.usual {
            _ if range.is_single() => t!("about {}", most),
            Some(usual) => t!("usually {}, {} to {}", usual.show(metric), least, most),
            None => t!("{} to {}", least, most),
        };
        add("food".to_owned(), &format!("{name}{weighed}"), amount, need.origin);
    }
    let mut jars = 0_u16;
    for (jar, count) in sheet.jars.iter().filter(|(_, count)| count.most() > 0) {
        jars = jars.saturating_add(count.most());
        let what = t!("Jars, {}, rims sound", jar.name());
        add(format!("jars-{}", jar.key()), &what, count.to_string(), Origin::Published(RIMS.say()));
        if let Some((least, most, publication)) = salt(food, *jar) {
            let jars = u32::from(count.most());
            let amount = if least == most {
                spoons(most * jars, metric)
            } else {
                t!("{} to {}", spoons(least * jars, metric), spoons(most * jars, metric))
            };
            let what = t!("Canning salt for {} jars, if you like", jar.name());
            add(format!("salt-{}", jar.key()), &what, amount, Origin::Published(publication.say()));
        }
        // Half a teaspoon of citric acid a half-pint, one a pint: never left out.
        let acid = match (food, jar) {
            ("crab", Jar::HalfPint) => 2,
            ("crab", Jar::Pint) => 4,
            _ => 0,
        };
        if acid > 0 {
            let amount = spoons(acid * u32::from(count.most()), metric);
            let what = t!("Citric acid for {} jars, required", jar.name());
            add(format!("acid-{}", jar.key()), &what, amount, Origin::Published(CRAB.say()));
        }
    }
    if jars > 0 {
        let lids = || Origin::Published(LIDS.say());
        add("lids".to_owned(), t!("New flat lids, one a jar"), jars.to_string(), lids());
        add("bands".to_owned(), t!("Bands, off again after the rest"), jars.to_string(), lids());
    }
    if draft.pack == Pack::Smoked {
        let each = if metric {
            t!("1 part to 7 of water by volume: 240 mL to 1.7 L for 0.9 to 1.4 kg of fish")
        } else {
            t!("1 cup to 7 cups of water for 2 to 3 lb of fish")
        };
        let what = t!("Salt for the brine, without iodine");
        add("brine".to_owned(), what, each.to_owned(), Origin::Published(BRINE.say()));
    }
    water(sheet, &mut add);
    fuel(draft, sheet, &mut add);
    if let Some((how, publication)) = wipes(food).filter(|_| jars > 0) {
        let origin = Origin::Published(publication.say());
        let how = how.say().to_owned();
        add("wipes".to_owned(), t!("Paper towels for the rims"), how, origin);
    }
    for lane in &sheet.lanes {
        let (name, key) = (lane.name.as_str(), lane.name.as_str());
        let what = t!("{}: gasket, vent and safety fuse looked at", name);
        add(format!("look-{key}"), &what, String::new(), Origin::Published(CHECKS.say()));
        if lane.gauge == crate::process::Gauge::Dial {
            let what = t!("{}: dial checked within the year", name);
            add(format!("dial-{key}"), &what, String::new(), Origin::Published(DIALS.say()));
        }
    }
    list
}

type Add<'a> = dyn FnMut(String, &str, String, Origin) + 'a;

/// Water in the canner, process by process.
fn water(sheet: &Sheet, add: &mut Add<'_>) {
    let mut seen: Vec<&str> = Vec::new();
    for load in &sheet.loads {
        let process = load.tested.process();
        if seen.contains(&process.water()) {
            continue;
        }
        seen.push(process.water());
        let same = sheet.loads.iter().filter(|one| one.tested.process().water() == process.water());
        let amount = t!("{} for each of {} loads", process.water(), same.count());
        let origin = Origin::Published(process.publication());
        add(format!("water-{}", process.id()), t!("Water in the canner"), amount, origin);
    }
}

/// Fuel, if the person knows what the stove burns: nobody has published it.
fn fuel(draft: &Draft, sheet: &Sheet, add: &mut Add<'_>) {
    let Some(hundredths) = decimal(draft.text(Field::Burn), 2).filter(|burn| *burn > 0) else {
        return;
    };
    let heated = sheet.steps.iter().fold(Range::just(0), |sum, steps| {
        let more = steps.heated();
        Range::new(sum.least() + more.least(), sum.most() + more.most())
    });
    if heated.most() == 0 {
        return;
    }
    // Tenths, rounded up: running out in the middle of a hold starts it over.
    let tenths =
        |minutes: u32| (u64::from(hundredths.unsigned_abs()) * u64::from(minutes)).div_ceil(600);
    let (least, most) = (tenths(heated.least()), tenths(heated.most()));
    let unit = draft.text(Field::BurnUnit).trim();
    let amount = t!("{} to {} {}", with_tenth(least), with_tenth(most), unit);
    add(
        "fuel".to_owned(),
        t!("Fuel, at most: the heat is lower once at pressure"),
        amount,
        Origin::Own,
    );
}

/// Whether the fuel line can be read.
#[must_use]
pub fn fuel_is_bad(draft: &Draft) -> bool {
    let typed = draft.text(Field::Burn).trim();
    !typed.is_empty() && decimal(typed, 2).is_none_or(|burn| burn <= 0)
}
