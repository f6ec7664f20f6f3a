//! Loads and the hours of the day: capacity, every least time, change of clocks.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

use hearthjar::batch::{Id, Text};
use hearthjar::plan::{
    Canning, Holds, Hours, Job, Lane, Moment, NoLoads, Origin, Past, Planned, Range, Step,
    StepKind, Steps, Wall, before, divide, published_capacity, resolve, schedule, steps,
};
use hearthjar::process::{CannerQuarts, Gauge, Jar, Pack, Question, Tested, Vessel, find};
use hearthjar::units::{Altitude, EpochMs, Span};
use proptest::prelude::*;

fn lane(name: &str, quarts: u8, holds: &[Holds]) -> Lane {
    Lane {
        canner: Some(Id::from_bytes([1; 16])),
        name: Text::new(name).unwrap(),
        gauge: Gauge::Weighted,
        quarts: CannerQuarts::new(quarts).unwrap(),
        holds: holds.to_vec(),
        check: None,
    }
}

fn tested(food: &str, pack: Pack, jar: Jar) -> Tested {
    let quarts = CannerQuarts::new(16).unwrap();
    let vessel = Vessel::PressureCanner { gauge: Gauge::Weighted, quarts };
    let altitude = Altitude::SEA_LEVEL;
    find(&Question { food, pack, jar, vessel, altitude }).unwrap()
}

fn canning(food: &str, pack: Pack) -> Canning<'_> {
    Canning { food, pack, altitude: Altitude::SEA_LEVEL, now: EpochMs(1_764_000_000_000) }
}

/// A typical canner: 7 quarts or 8 to 9 pints (USDA Complete Guide to Home Canning,
/// Guide 1, p. 1-17, 2015). Nothing is published for half-pints or other sizes.
#[test]
fn published_loads() {
    let range = |quarts, jar| published_capacity(quarts, jar).map(|(range, _)| range);
    for quarts in 16..=23 {
        assert_eq!(range(quarts, Jar::Quart), Some(Range::just(7)));
        assert_eq!(range(quarts, Jar::Pint), Some(Range::new(8, 9)));
        assert_eq!(range(quarts, Jar::HalfPint), None);
    }
    assert_eq!(range(15, Jar::Quart), None);
    assert_eq!(range(24, Jar::Pint), None);
}

#[test]
fn a_size_nobody_counted_is_asked_for() {
    let lanes = [lane("Blue", 16, &[])];
    let jars = [(Jar::HalfPint, Range::just(12))];
    let (loads, no) = divide(canning("fish", Pack::Raw), &jars, &lanes, &|_, _, _| 200);
    assert!(loads.is_empty());
    assert_eq!(no, [NoLoads::Uncounted(0, Jar::HalfPint)]);
    let lanes = [lane("Blue", 16, &[Holds::new(Jar::HalfPint, 12, 1).unwrap()])];
    let (loads, no) = divide(canning("fish", Pack::Raw), &jars, &lanes, &|_, _, _| 200);
    assert_eq!((loads.len(), loads[0].jars, no.len()), (1, 12, 0));
}

/// Smoked fish in quarts has no process, and a canner under 16 qt is not to be used
/// for it (USDA Complete Guide to Home Canning, Guide 5, p. 5-13, 2015).
#[test]
fn what_the_finder_refuses_is_not_planned() {
    let lanes = [lane("Blue", 16, &[])];
    let jars = [(Jar::Quart, Range::just(4)), (Jar::Pint, Range::just(8))];
    let (loads, no) = divide(canning("smoked-fish", Pack::Smoked), &jars, &lanes, &|_, _, _| 200);
    assert!(
        matches!(no[..], [NoLoads::Refused(Jar::Quart, why)] if why.id() == "smoked-fish-over-pint")
    );
    assert_eq!(loads.iter().map(|load| load.tested.jar()).collect::<Vec<_>>(), [Jar::Pint]);
    let small = [lane("Small", 12, &[Holds::new(Jar::Pint, 5, 1).unwrap()])];
    let (loads, no) =
        divide(canning("smoked-fish", Pack::Smoked), &jars[1..], &small, &|_, _, _| 200);
    assert!(loads.is_empty());
    assert!(matches!(no[..], [NoLoads::Refused(_, why)] if why.id() == "smoked-fish-small-canner"));
}

/// The published minutes of one load of smoked fish in pints: 12 to 15 to vent
/// (Guide 1, p. 1-17), 10 venting, 3 to 5 to pressure (p. 1-22), 110 at pressure
/// (Guide 5, pp. 5-13 and 5-14), 20 to 60 to cool (p. 1-17), 10 before the lid.
#[test]
fn the_published_minutes_of_a_load() {
    let steps =
        steps(&tested("smoked-fish", Pack::Smoked, Jar::Pint), &Hours::default(), &Past::default());
    let minutes = |step: Step| (step.minutes.least(), step.minutes.most());
    assert_eq!(
        steps.all().map(minutes),
        [(0, 0), (12, 15), (10, 10), (3, 5), (110, 110), (20, 60), (10, 10), (0, 0), (0, 0)]
    );
    assert_eq!((steps.heated().least(), steps.heated().most()), (135, 140));
    for step in [steps.pack, steps.unload, steps.between] {
        assert_eq!(step.origin, Origin::Unknown);
    }
    // Fish in quarts: heat 20, heat and vent 30, hold 160 (Guide 5, p. 5-12).
    let quarts = steps_of("fish", Pack::Raw, Jar::Quart, &Hours::default());
    assert_eq!(minutes(quarts.warm_up), (20, 20));
    assert_eq!(minutes(quarts.vent), (10, 10));
    assert_eq!(minutes(quarts.hold), (160, 160));
}

fn steps_of(food: &str, pack: Pack, jar: Jar, hours: &Hours) -> Steps {
    steps(&tested(food, pack, jar), hours, &Past::default())
}

/// The printed hour or two of brine is for smoking to eat now (Washington State
/// University Extension; Kitsap Cooperative Extension, 1992), so it is not filled in
/// for fish to be canned: the step stands with nothing counted, and says why.
#[test]
fn brining_before_canning_is_left_to_the_person() {
    let brine = |hours: &Hours| {
        let steps = before(Pack::Smoked, hours, &Past::default());
        steps.into_iter().find(|step| step.kind == StepKind::Brine).unwrap()
    };
    let open = brine(&Hours::default());
    assert_eq!(open.minutes, Range::just(0));
    let words = open.origin.words();
    assert!(words.contains("give your own time") && words.contains("to eat now"), "{words}");
    let own = brine(&Hours { brine: Some(Range::new(20, 40)), ..Hours::default() });
    assert_eq!((own.minutes, own.origin), (Range::new(20, 40), Origin::Own));
}

/// Two hours of smoke at most (Washington State University Extension).
#[test]
fn smoke_is_never_planned_longer_than_two_hours() {
    let hours = Hours { smoke: Some(Range::new(30, 300)), ..Hours::default() };
    let steps = before(Pack::Smoked, &hours, &Past::default());
    let smoke = steps.iter().find(|step| step.kind == StepKind::Smoke).unwrap();
    assert_eq!((smoke.minutes.least(), smoke.minutes.most()), (30, 120));
}

#[test]
fn two_canners_on_one_stove_take_turns() {
    let hours = Hours { pack: Some(Range::just(10)), ..Hours::default() };
    let steps = steps_of("fish", Pack::Raw, Jar::Pint, &hours);
    let jobs = [Job { lane: 0, steps }, Job { lane: 1, steps }];
    let one = schedule(&[], &jobs, 1);
    let two = schedule(&[], &jobs, 2);
    let heat_on = |day: &hearthjar::plan::Schedule, load: usize| day.loads[load][1].begins.most();
    let heat_off = |day: &hearthjar::plan::Schedule, load: usize| day.loads[load][5].begins.most();
    assert_eq!(heat_on(&one, 1), heat_off(&one, 0));
    // One pair of hands packs: the second heat waits for the second packing.
    assert_eq!(heat_on(&two, 1), heat_on(&two, 0) + 10);
    assert!(two.ends.most() < one.ends.most());
}

fn any_holds() -> impl Strategy<Value = Vec<Holds>> {
    (1_u16..=20, 1_u16..=20, 1_u16..=10).prop_map(|(half, pint, quart)| {
        vec![
            Holds::new(Jar::HalfPint, half, 1).unwrap(),
            Holds::new(Jar::Pint, pint, 1).unwrap(),
            Holds::new(Jar::Quart, quart, 1).unwrap(),
        ]
    })
}

fn any_hours() -> impl Strategy<Value = Hours> {
    let some = || proptest::option::of((0_u32..90, 0_u32..90).prop_map(|(a, b)| Range::new(a, b)));
    (some(), some(), some(), some(), some(), some(), some()).prop_map(
        |(thaw, brine, drip, smoke, pack, unload, between)| Hours {
            thaw,
            brine,
            drip,
            smoke,
            pack,
            unload,
            between,
        },
    )
}

/// A day of some loads on some canners.
fn any_day() -> impl Strategy<Value = (Vec<Planned>, Vec<Job>, Vec<Step>, Vec<Lane>, usize)> {
    let lanes = proptest::collection::vec(any_holds(), 1..4);
    (lanes, any_hours(), 0_u16..60, 0_u16..60, 0_u16..20, 1_usize..4).prop_map(
        |(holds, hours, half, pint, quart, stoves)| {
            let lanes: Vec<Lane> = holds.iter().map(|holds| lane("Blue", 16, holds)).collect();
            let jars = [
                (Jar::HalfPint, Range::new(half / 2, half)),
                (Jar::Pint, Range::new(pint / 2, pint)),
                (Jar::Quart, Range::new(quart / 2, quart)),
            ];
            let of = |tested: &Tested| steps(tested, &hours, &Past::default());
            let lasts = |_: usize, tested: &Tested, _: u16| of(tested).most();
            let (loads, no) = divide(canning("fish", Pack::Raw), &jars, &lanes, &lasts);
            assert!(no.is_empty());
            let jobs = loads.iter().map(|load| Job { lane: load.lane, steps: of(&load.tested) });
            let jobs = jobs.collect();
            (loads, jobs, before(Pack::Smoked, &hours, &Past::default()), lanes, stoves)
        },
    )
}

proptest! {
    #[test]
    fn loads_never_exceed_a_canner_and_lose_no_jar(
        holds in proptest::collection::vec(any_holds(), 1..4),
        half in (0_u16..80, 0_u16..80), pint in (0_u16..80, 0_u16..80), quart in (0_u16..40, 0_u16..40),
    ) {
        let lanes: Vec<Lane> = holds.iter().map(|holds| lane("Blue", 16, holds)).collect();
        let jars = [
            (Jar::HalfPint, Range::new(half.0, half.1)),
            (Jar::Pint, Range::new(pint.0, pint.1)),
            (Jar::Quart, Range::new(quart.0, quart.1)),
        ];
        let (loads, no) = divide(canning("fish", Pack::Raw), &jars, &lanes, &|_, _, _| 200);
        prop_assert!(no.is_empty());
        for load in &loads {
            let (most, ..) = lanes[load.lane].capacity(load.tested.jar()).unwrap();
            prop_assert!((1..=most).contains(&load.jars) && load.sure <= load.jars);
            // The minutes are the finder's own.
            let again = tested("fish", Pack::Raw, load.tested.jar());
            prop_assert_eq!(load.tested.minutes(), again.minutes());
            prop_assert_eq!(load.setting, again.pressure());
        }
        for (jar, count) in jars {
            let mine = || loads.iter().filter(move |load| load.tested.jar() == jar);
            prop_assert_eq!(mine().map(|load| load.jars).sum::<u16>(), count.most());
            prop_assert_eq!(mine().map(|load| load.sure).sum::<u16>(), count.least());
        }
    }

    #[test]
    fn the_day_respects_every_least_time(day in any_day()) {
        let (loads, jobs, before, lanes, stoves) = day;
        let plan = schedule(&before, &jobs, stoves);
        for end in [Range::<u32>::least, Range::<u32>::most] {
            let at = |load: usize, mark: usize| end(plan.loads[load][mark].begins);
            for (number, load) in loads.iter().enumerate() {
                let process = load.tested.process();
                let (heat, steam, shut, full, off) =
                    (at(number, 1), at(number, 2), at(number, 3), at(number, 4), at(number, 5));
                let (zero, lid, out) = (at(number, 6), at(number, 7), at(number, 8));
                prop_assert!(steam - heat >= u32::from(process.heat_before_vent().0));
                prop_assert!(shut - steam >= u32::from(process.vent().0));
                prop_assert!(shut - heat >= u32::from(process.heat_plus_vent().0));
                prop_assert_eq!(off - full, u32::from(process.minutes().0));
                prop_assert!(full >= shut && zero >= off && lid >= zero + 10 && out >= lid);
                prop_assert!(end(plan.ends) >= out);
                // Nothing is packed before the fish is ready.
                let ready: u32 = before.iter().map(|step| end(step.minutes)).sum();
                prop_assert!(at(number, 0) >= ready || number > 0);
                prop_assert!(heat >= ready);
            }
            // One load at a time in a canner.
            for lane in 0..lanes.len() {
                let mine: Vec<usize> = (0..loads.len()).filter(|n| loads[*n].lane == lane).collect();
                for pair in mine.windows(2) {
                    prop_assert!(at(pair[1], 1) >= at(pair[0], 8));
                }
            }
            // Never more canners on the heat than there are stoves.
            for number in 0..loads.len() {
                let now = at(number, 1);
                let hot = (0..loads.len()).filter(|n| at(*n, 1) <= now && now < at(*n, 5)).count();
                prop_assert!(hot <= stoves);
            }
        }
    }

    /// Whatever each step takes within its range, the day ends within its own.
    #[test]
    fn a_day_within_its_ranges_ends_as_planned(day in any_day(), part in 0_u32..=100, odd in 0_u32..=100) {
        let (_, jobs, before, _, stoves) = day;
        let plan = schedule(&before, &jobs, stoves);
        let some = |step: Step, part: u32| {
            let (least, most) = (step.minutes.least(), step.minutes.most());
            Step { minutes: Range::just(least + (most - least) * part / 100), ..step }
        };
        let before: Vec<Step> = before.iter().map(|step| some(*step, odd)).collect();
        let jobs: Vec<Job> = jobs.iter().enumerate().map(|(number, job)| {
            let part = if number % 2 == 0 { part } else { odd };
            let s = job.steps;
            let steps = Steps {
                pack: some(s.pack, part), warm_up: some(s.warm_up, odd), vent: some(s.vent, part),
                rise: some(s.rise, part), hold: s.hold, fall: some(s.fall, odd),
                wait: s.wait, unload: some(s.unload, part), between: some(s.between, odd),
            };
            Job { lane: job.lane, steps }
        }).collect();
        let real = schedule(&before, &jobs, stoves);
        prop_assert!(real.ends.most() <= plan.ends.most());
        prop_assert!(real.ends.least() >= plan.ends.least());
        for (planned, real) in plan.loads.iter().zip(&real.loads) {
            // From the heat on: packing is done as late as the canner allows.
            for (planned, real) in planned.iter().zip(real).skip(1) {
                prop_assert!(real.begins.least() >= planned.begins.least());
                prop_assert!(real.begins.most() <= planned.begins.most());
            }
        }
    }
}

/// A zone as `tables/zones.csv` has it.
struct Zone(Vec<(i64, i32)>);

impl Zone {
    fn offset(&self, at: EpochMs) -> i32 {
        let seconds = at.0.div_euclid(1_000);
        self.0.iter().rev().find(|(from, _)| *from <= seconds).unwrap().1
    }

    /// The time of day an instant shows, minutes after midnight.
    fn clock(&self, at: EpochMs) -> i64 {
        (at.0 / 60_000 + i64::from(self.offset(at))).rem_euclid(1_440)
    }
}

fn lines(kind: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    include_str!("tables/zones.csv")
        .lines()
        .map(|line| line.split(',').collect::<Vec<_>>())
        .filter(move |cells| cells[0] == kind)
}

fn zone(name: &str) -> Zone {
    let changes = lines("change").filter(|cells| cells[1] == name);
    Zone(changes.map(|c| (c[2].parse().unwrap(), c[3].parse().unwrap())).collect())
}

/// Against Python's zoneinfo over the IANA time zone database.
#[test]
fn wall_times_mean_the_instants_the_zone_database_says() {
    let (mut seen, mut odd) = (0, 0);
    for cells in lines("wall") {
        let zone = zone(cells[1]);
        let (date, time) = cells[2].split_once('T').unwrap();
        let moment = resolve(Wall::parse(date, time).unwrap(), &|at| zone.offset(at));
        let instant = EpochMs(cells[4].parse::<i64>().unwrap() * 1_000);
        let wanted = match cells[3] {
            "0" => Moment::Skipped(instant),
            "1" => Moment::Once(instant),
            _ => Moment::First(instant),
        };
        assert_eq!(moment, wanted, "{cells:?}");
        seen += 1;
        odd += usize::from(cells[3] != "1");
    }
    assert!(seen > 250 && odd > 100, "{seen} {odd}");
}

#[test]
fn what_is_no_date_or_time_is_not_guessed() {
    for (date, time) in [
        ("", "18:00"),
        ("2026-02-29", "18:00"),
        ("2026-11-29", "24:00"),
        ("2026-11-29", ""),
        ("29.11.2026", "18:00"),
        ("2026-11", "18:00"),
        ("2026-11-29", "6 pm"),
    ] {
        assert_eq!(Wall::parse(date, time), None, "{date} {time}");
    }
    assert!(Wall::parse("2028-02-29", "18:00:59").is_some());
}

/// The night of 31 October to 1 November 2026 the clocks of Anchorage go back at
/// 2:00 (zoneinfo): a day that ends at 4:00 and lasts 5 h begins at midnight, an hour
/// later on the wall than plain subtraction has it, and the hold lasts its full time.
#[test]
fn a_run_across_the_change_of_the_clocks_is_exact() {
    let anchorage = zone("America/Anchorage");
    let offset = |at: EpochMs| anchorage.offset(at);
    let hours =
        Hours { pack: Some(Range::just(60)), unload: Some(Range::just(30)), ..Hours::default() };
    let steps = steps_of("smoked-fish", Pack::Smoked, Jar::Pint, &hours);
    let plan = schedule(&[], &[Job { lane: 0, steps }], 1);
    // 60 + 15 + 10 + 5 + 110 + 60 + 10 + 30 minutes at most.
    assert_eq!(plan.ends.most(), 300);
    let end = resolve(Wall::parse("2026-11-01", "04:00").unwrap(), &offset);
    assert_eq!(end.at(), EpochMs(1_793_538_000_000));
    let day = plan.until(end.at());
    assert_eq!(day.out.most(), end.at());
    assert_eq!(day.out.most().since(day.start), Span::minutes(300));
    assert_eq!(anchorage.clock(day.start), 0);
    let full = plan.at(day.start, plan.loads[0][4].begins.most());
    let off = plan.at(day.start, plan.loads[0][5].begins.most());
    assert_eq!(off.since(full), Span::minutes(110));
    assert_eq!((anchorage.clock(full), anchorage.clock(off)), (90, 60 + 80));
    // In spring an hour is missing: the same day begins an hour sooner on the wall.
    let end = resolve(Wall::parse("2027-03-14", "06:00").unwrap(), &offset);
    let day = plan.until(end.at());
    assert_eq!(
        (anchorage.clock(day.start), day.out.most().since(day.start)),
        (0, Span::minutes(300))
    );
}
