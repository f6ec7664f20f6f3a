//! The whole plan, worked out from what was typed and what the record holds.
//!
//! Invariant: what cannot be worked out is named with what to do about it; the rest
//! is shown all the same.

use super::amount::{Need, NoNeed, Own, Want, fill, needed};
use super::canner::TWO_LAYERS;
use super::day::{Job, Schedule, schedule};
use super::draft::{Draft, Field, Food, Hours, masses, wholes};
use super::history::{Alike, Past, past};
use super::loads::{Canning, Lane, NoLoads, Planned, divide};
use super::ranged::Range;
use super::steps::{SMOKE_MOST, Step, Steps, before, steps};
use crate::batch::Archive;
use crate::process::{CannerQuarts, Caution, Food as Catalogue, Group, Jar, Pack, Tested};
use crate::t;
use crate::units::{Altitude, EpochMs, Mass};
use crate::w;
use crate::words::Word;

/// What stands in the way, and where to put it right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The line to look at, if one.
    pub field: Option<Field>,
    /// What is wrong and what to do.
    pub say: String,
    /// Where that is published, if it is a rule of the trade.
    pub publication: Option<&'static str>,
}

/// A plan worked out.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Sheet {
    /// What stands in the way.
    pub problems: Vec<Problem>,
    /// The food: what there is, or what the wanted jars take.
    pub food: Option<Range<Mass>>,
    /// The printed figure for the wanted jars.
    pub usual: Option<Mass>,
    /// What one jar of each size takes.
    pub needs: Vec<Need>,
    /// Jars by size.
    pub jars: Vec<(Jar, Range<u16>)>,
    /// The canners.
    pub lanes: Vec<Lane>,
    /// The loads in the order they are run.
    pub loads: Vec<Planned>,
    /// The steps before the first jar.
    pub before: Vec<Step>,
    /// For each load its steps.
    pub steps: Vec<Steps>,
    /// The hours.
    pub schedule: Option<Schedule>,
    /// What to know.
    pub cautions: Vec<Caution>,
    /// The plan as a whole breaks a published limit: nothing is begun from it.
    pub barred: bool,
}

const TWO_HOURS: Caution = Caution {
    text: w!(
        "Drying and packing together may take over 2 hours. Keep what waits in the refrigerator: \
           food stands out no longer than 2 hours in all, 1 hour above 90 F (32 C)."
    ),
    publication: w!("FDA and USDA consumer advice, 2016 to 2017"),
};
const LATER_LOADS: Caution = Caution {
    text: w!("Keep the food of later loads below 40 F (4 C) until it is packed."),
    publication: w!("PNW 194, Canning Seafood"),
};
const LAYERS: Caution = Caution {
    text: w!(
        "No source says that smoked fish was tested in two layers. One layer is the sure way."
    ),
    publication: TWO_LAYERS,
};
const PART_LOAD: Caution = Caution {
    text: w!("No least load is published. Some fill the room of a small load with jars of plain \
           water."),
    publication: w!("Iowa State University Extension, Pressure Canner Load, January 2024"),
};
/// Where the limit between smoking and canning is published.
const SMOKE_TO_CAN: Word = w!("PNW 450, Canning Smoked Fish at Home");

impl Sheet {
    fn stop(&mut self, field: Option<Field>, say: impl Into<String>) {
        self.problems.push(Problem { field, say: say.into(), publication: None });
    }

    fn rule(&mut self, field: Option<Field>, say: impl Into<String>, publication: &'static str) {
        self.problems.push(Problem { field, say: say.into(), publication: Some(publication) });
    }
}

/// Works a draft out.
#[must_use]
pub fn sheet(draft: &Draft, archive: &Archive, now: EpochMs) -> Sheet {
    let mut sheet = Sheet::default();
    let wants = wants(draft, &mut sheet);
    sheet.lanes = lanes(draft, archive);
    let whole_past = past(archive, alike(draft, None, ""));
    let needs = needs(draft, &wants, &whole_past, &mut sheet);
    if let Some(needs) = &needs {
        amounts(draft, needs, &mut sheet);
    } else if draft.by == Food::Jars {
        // Jars can be planned without knowing what they take.
        sheet.jars = counted(&wants);
    }
    let (hours, bad) = Hours::of(draft);
    for field in bad {
        sheet.stop(
            Some(field),
            t!("Give the time as a whole number, such as 60, or two of them: 60 to 90."),
        );
    }
    if hours.smoke.is_some_and(|smoke| smoke.most() > SMOKE_MOST) {
        sheet.rule(
            Some(Field::Smoke),
            t!("Fish for canning is smoked for 2 hours at most. The plan reckons with 2."),
            t!("Washington State University Extension, Preservation Tips: Smoking/Curing"),
        );
    }
    sheet.before = before(draft.pack, &hours, &whole_past);
    day(draft, archive, now, &hours, &mut sheet);
    sheet
}

fn alike<'a>(draft: &'a Draft, tested: Option<&Tested>, canner: &'a str) -> Alike<'a> {
    Alike {
        food: &draft.food,
        pack: draft.pack,
        process: tested.map_or("", |tested| tested.process().id()),
        canner,
        quarts: tested.map_or(0, Tested::quarts),
    }
}

fn wants(draft: &Draft, sheet: &mut Sheet) -> Vec<Want> {
    let mut wants = Vec::new();
    for (jar, number) in &draft.wants {
        let jars = match wholes(number, 2_000) {
            Ok(range) => range.and_then(|range| u16::try_from(range.most()).ok()),
            Err(()) => {
                let name = jar.name();
                sheet.stop(None, t!("Give the {} jars as a whole number up to 2,000.", name));
                continue;
            }
        };
        wants.push(Want { jar: *jar, jars });
    }
    if draft.by != Food::Jars && wants.iter().filter(|want| want.jars.is_none()).count() > 1 {
        sheet.stop(None, t!("Give a number for every jar size but one: that one takes the rest."));
    }
    if wants.is_empty() && draft.wants.is_empty() {
        sheet.stop(None, t!("Choose at least one jar size."));
    }
    wants
}

fn lanes(draft: &Draft, archive: &Archive) -> Vec<Lane> {
    let household = archive.household();
    let kept = household.canners.iter().filter(|canner| draft.canners.contains(&canner.canner));
    kept.filter_map(|kept| {
        Some(Lane {
            canner: Some(kept.canner),
            name: kept.name.clone(),
            gauge: kept.gauge,
            quarts: CannerQuarts::new(kept.quarts).ok()?,
            holds: household.holds(kept.canner),
            check: household.check(kept.canner),
        })
    })
    .collect()
}

/// What a jar of each wanted size takes.
fn needs(
    draft: &Draft,
    wants: &[Want],
    past: &Past,
    sheet: &mut Sheet,
) -> Option<Vec<(Want, Need)>> {
    let mut own = Own::default();
    match masses(draft.text(Field::PerJar), draft.metric) {
        Ok(range) => {
            let range = range.filter(|range| range.least() > Mass::ZERO);
            own.fill = range.zip(wants.first().map(|want| want.jar));
        }
        Err(say) => sheet.stop(Some(Field::PerJar), say),
    }
    if let Some((range, jar)) = own.fill
        && u64::from(range.most().grams()) * 10 > u64::from(jar.millilitres()) * 12
    {
        let name = jar.name();
        sheet.stop(
            Some(Field::PerJar),
            t!("A {} jar cannot hold that much: fish weighs little more than water.", name),
        );
        own.fill = None;
    }
    match wholes(draft.text(Field::Kept), 100) {
        Ok(range) => {
            own.kept = range
                .map(|r| Range::new(r.least() as u16, r.most() as u16))
                .filter(|range| range.least() > 0);
        }
        Err(()) => sheet.stop(Some(Field::Kept), t!("Give it as a number from 1 to 100.")),
    }
    let mut needs = Vec::new();
    for want in wants {
        match Need::of(&draft.food, draft.basis, want.jar, &own, past) {
            Ok(need) => needs.push((*want, need)),
            Err(no) => {
                let field = match no {
                    NoNeed::Fill => Field::PerJar,
                    NoNeed::Kept => Field::Kept,
                };
                sheet.stop(Some(field), no.words());
                return None;
            }
        }
    }
    sheet.needs = needs.iter().map(|(_, need)| *need).collect();
    Some(needs)
}

fn counted(wants: &[Want]) -> Vec<(Jar, Range<u16>)> {
    wants.iter().map(|want| (want.jar, Range::just(want.jars.unwrap_or(0)))).collect()
}

fn amounts(draft: &Draft, needs: &[(Want, Need)], sheet: &mut Sheet) {
    let typed = |field: Field, sheet: &mut Sheet| match masses(draft.text(field), draft.metric) {
        Ok(range) => range.filter(|range| range.most() > Mass::ZERO),
        Err(say) => {
            sheet.stop(Some(field), say);
            None
        }
    };
    let food = match draft.by {
        Food::Jars => {
            let (range, usual) = needed(needs);
            sheet.food = Some(range);
            // A yield of the person's own stands above the printed round figure.
            sheet.usual = usual.filter(|_| range.most() > Mass::ZERO);
            let wants: Vec<Want> = needs.iter().map(|(want, _)| *want).collect();
            sheet.jars = counted(&wants);
            if sheet.jars.iter().all(|(_, count)| count.most() == 0) {
                sheet.stop(None, t!("Give the number of jars you want."));
            }
            return;
        }
        Food::Weight => typed(Field::Weight, sheet),
        Food::Count => {
            let count = match wholes(draft.text(Field::Count), 10_000) {
                Ok(count) => count,
                Err(()) => {
                    sheet
                        .stop(Some(Field::Count), t!("Give the number of fish as a whole number."));
                    None
                }
            };
            count.zip(typed(Field::Each, sheet)).map(|(count, each)| {
                let times = |count: u32, each: Mass| {
                    let grams = count.saturating_mul(each.grams()).min(Mass::MAX_GRAMS);
                    Mass::from_grams(grams).unwrap_or_default()
                };
                Range::new(times(count.least(), each.least()), times(count.most(), each.most()))
            })
        }
    };
    let Some(food) = food else {
        let field = if draft.by == Food::Count { Field::Count } else { Field::Weight };
        sheet.stop(Some(field), t!("Give the amount of food."));
        return;
    };
    sheet.food = Some(food);
    let (least, most) = (fill(food.least(), needs), fill(food.most(), needs));
    let both = least.into_iter().zip(most);
    let ends = |least: Range<u16>, most: Range<u16>| {
        Range::new(least.least().min(most.most()), most.most())
    };
    sheet.jars = both.map(|((jar, least), (_, most))| (jar, ends(least, most))).collect();
    if sheet.jars.iter().all(|(_, count)| count.most() == 0) {
        sheet.stop(None, t!("That does not fill a jar."));
    }
}

/// Loads and hours.
fn day(draft: &Draft, archive: &Archive, now: EpochMs, hours: &Hours, sheet: &mut Sheet) {
    let altitude = match draft.text(Field::Altitude).trim() {
        "" => {
            sheet.stop(Some(Field::Altitude), t!("Give the altitude: it decides the pressure."));
            return;
        }
        typed => match Altitude::parse(typed, draft.metric) {
            Ok(altitude) => altitude,
            Err(error) => return sheet.stop(Some(Field::Altitude), error.to_string()),
        },
    };
    if sheet.lanes.is_empty() {
        return sheet.stop(None, t!("Choose the canners you will use."));
    }
    let canning = Canning { food: &draft.food, pack: draft.pack, altitude, now };
    let lanes = sheet.lanes.clone();
    let steps_on = |lane: usize, tested: &Tested| {
        let name = lanes.get(lane).map_or("", |lane| lane.name.as_str());
        steps(tested, hours, &past(archive, alike(draft, Some(tested), name)))
    };
    let lasts = |lane: usize, tested: &Tested, _: u16| steps_on(lane, tested).most();
    let (loads, no) = divide(canning, &sheet.jars, &lanes, &lasts);
    for no in no {
        say_no(no, &lanes, sheet);
    }
    if loads.is_empty() {
        return;
    }
    sheet.steps = loads.iter().map(|load| steps_on(load.lane, &load.tested)).collect();
    let jobs: Vec<Job> = loads
        .iter()
        .zip(&sheet.steps)
        .map(|(load, steps)| Job { lane: load.lane, steps: *steps })
        .collect();
    let schedule = schedule(&sheet.before, &jobs, usize::from(draft.stoves.max(1)));
    sheet.loads = loads;
    cautions(draft, hours, &schedule, sheet);
    sheet.schedule = Some(schedule);
}

fn say_no(no: NoLoads, lanes: &[Lane], sheet: &mut Sheet) {
    let name = |lane: usize| lanes.get(lane).map_or("", |lane| lane.name.as_str());
    match no {
        NoLoads::Refused(jar, refusal) => sheet.rule(
            None,
            t!("{}: {} Instead: {}", jar.name(), refusal.reason(), refusal.instead()),
            refusal.publication(),
        ),
        NoLoads::Dial(lane, say) => sheet.stop(None, format!("{}: {say}", name(lane))),
        NoLoads::Uncounted(lane, jar) => sheet.stop(
            None,
            t!(
                "How many {} jars fill {}? Count them on the rack and write it down below.",
                jar.name(),
                name(lane)
            ),
        ),
    }
}

fn cautions(draft: &Draft, hours: &Hours, schedule: &Schedule, sheet: &mut Sheet) {
    let out = |typed: Option<Range<u32>>| typed.map_or(0, Range::most);
    if out(hours.drip) + out(hours.pack) > 120 {
        sheet.cautions.push(TWO_HOURS);
    }
    let group = Catalogue::by_key(&draft.food).map(Catalogue::group);
    if sheet.loads.len() > 1 && matches!(group, Some(Group::Fish | Group::Shellfish)) {
        sheet.cautions.push(LATER_LOADS);
    }
    if draft.pack == Pack::Smoked {
        let layers = sheet.loads.iter().any(|load| {
            let lane = sheet.lanes.get(load.lane);
            let holds = lane.and_then(|lane| lane.capacity(load.tested.jar()));
            holds.is_some_and(|(_, layers, _)| layers > 1)
        });
        if layers {
            sheet.cautions.push(LAYERS);
        }
        if schedule.stands > 24 * 60 {
            sheet.barred = true;
            sheet.rule(
                None,
                t!("The last load would stand over a day after smoking. Smoked fish is canned at \
                     once or after no more than 1 day in the refrigerator: smoke less, or use \
                     another canner."),
                SMOKE_TO_CAN.say(),
            );
        }
    }
    let small = sheet.loads.iter().any(|load| match load.tested.jar() {
        Jar::Quart => load.jars < 2,
        _ => load.jars < 4,
    });
    if small {
        sheet.cautions.push(PART_LOAD);
    }
    for load in &sheet.loads {
        for caution in load.tested.cautions() {
            if !sheet.cautions.contains(&caution) {
                sheet.cautions.push(caution);
            }
        }
    }
}
