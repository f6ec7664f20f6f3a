//! Why the full time: a jar's cold point against the steam, by taps.
//!
//! Invariant: what the tables do not list cannot be chosen; the picture says what is
//! lost by ending early and never what would be enough.

use crate::app::draw::{El, Known, Var, button, derive, el, memo, of, region, say, signal};
use crate::app::parts::{chart, choices, heading, legend, page, section, stroke};
use crate::app::store::Store;
use hearthjar::heat::{
    COMPOSITION, FRAME, FoodStart, JAR_SIZES, SCATTER, Setting, Warming, offered_jars, setting_of,
    settings, warming as picture,
};
use hearthjar::process::{Gauge, Jar};
use hearthjar::t;
use hearthjar::w;
use hearthjar::words::Word;

const LEAD: Word = w!(
    "Steam is at its heat within minutes. The middle of a packed jar is not: heat creeps in, and \
     most of what kills comes near the end of the full time and while the canner cools. Here is \
     raw fish."
);
const NO_PROOF: Word = w!(
    "A picture, worked out for a solid pack. It neither proves nor replaces the tested process, \
     and real packs are slower or faster. A run that ends early is not processed, whatever the \
     picture says."
);
/// Keys for the pressures of one jar, by their place in the list.
const PLACES: [&str; 8] = ["0", "1", "2", "3", "4", "5", "6", "7"];
/// A tap's worth of minutes.
const STEP: u16 = 10;

/// What is chosen.
#[derive(Clone, Copy)]
struct Chosen {
    jar: Var<Jar>,
    setting: Var<usize>,
    food: Var<FoodStart>,
    off: Var<u16>,
}

impl Chosen {
    fn setting(self) -> Option<Setting> {
        settings(self.jar.get()).get(self.setting.get()).copied()
    }

    fn picture(self) -> Option<Warming> {
        picture(self.jar.get(), self.setting()?, self.food.get(), self.off.get())
    }
}

/// The screen.
pub fn warming(store: Store) -> Vec<El> {
    let (jar, setting) = own(store).unwrap_or((Jar::Pint, 0));
    let chosen = Chosen {
        jar: signal(jar),
        setting: signal(setting),
        food: signal(FoodStart::Cold),
        off: signal(60),
    };
    let shown = memo(move || chosen.picture());
    let mut parts = vec![heading(t!("Why the full time")), of("p", "lead").text(LEAD.say())];
    parts.push(region(move || shown.get().map_or_else(Vec::new, |shown| drawing(&shown))));
    parts.push(ender(chosen, shown));
    parts.push(of("p", "said").text(NO_PROOF.say()));
    parts.extend(questions(chosen));
    parts.push(region(move || shown.get().map_or_else(Vec::new, |shown| vec![table(&shown)])));
    parts.push(section(t!("What this rests on")));
    parts.push(say(
        "p",
        t!(
            "20 min to steady steam, 10 min of venting, 5 min to pressure, and 40 min for the pressure \
             to go (allowances, no source, but for the venting). Steam is that of the highest place \
             the pressure answers for. The band runs from the slowest jar to the fastest that the \
             figures allow: make-up of the fish, size of the jar, 1 to 5 mm of glass."
        ),
    ));
    parts.extend([COMPOSITION, JAR_SIZES, SCATTER].map(|text| of("p", "source").text(text.say())));
    vec![page(parts)]
}

/// Jar and setting of the load at hand, if there is a picture of them.
fn own(store: Store) -> Option<(Jar, usize)> {
    store.look_now(|archive| {
        let loads = archive.loads().into_iter();
        let open =
            loads.filter(|(_, load)| !load.run.is_processed() && load.run.stopped().is_none());
        let (batch, load) = open.max_by_key(|(_, load)| load.run.stage().since())?;
        let jar = batch.start.as_ref()?.1.jar;
        Some((jar, setting_of(jar, &load.plan)?))
    })
}

fn drawing(shown: &Warming) -> Vec<El> {
    let (_, _, top, bottom) = FRAME;
    let [off, full] = shown.marks;
    let words = t!(
        "Steam and the cold point of a jar against time, heat off after {} of {} min. {}",
        shown.off,
        shown.full,
        cost(shown)
    );
    let drawn = chart(
        &words,
        ["°F", t!("minutes since the heat went on"), "°C"],
        &shown.levels,
        &shown.ticks,
    )
    .child(stroke("band", &shown.band))
    .child(stroke("steam", &shown.steam[0]))
    .child(stroke("centre", &shown.centre[0]))
    .child(stroke("mark", &format!("M{full} {top}V{bottom}")))
    .child(stroke("mark early", &format!("M{off} {top}V{bottom}")))
    .child(stroke("steam early", &shown.steam[1]))
    .child(stroke("centre early", &shown.centre[1]));
    let lines = [
        ("steam", t!("steam")),
        ("centre", t!("cold point")),
        ("centre early", t!("if it ends early")),
        ("band", t!("slowest to fastest")),
    ];
    vec![
        el("figure").child(drawn).child(legend(&lines)),
        of("p", "cost").attr("role", "status").text(&cost(shown)),
        of("p", "source").text(shown.publication),
    ]
}

/// What ending then means, in words.
fn cost(shown: &Warming) -> String {
    let [likely, slow, fast] = shown.now.share;
    if shown.off == shown.full {
        return t!(
            "The full {} min: the cold point is at {} in steam of {}.",
            shown.full,
            shown.now.cold,
            shown.steam_at
        );
    }
    t!(
        "Heat off after {} of {} min: the cold point has only reached {} in steam of {}. It would get \
         about {} % of the killing heat of the full time, from {} to {} %. Not processed.",
        shown.off,
        shown.full,
        shown.now.cold,
        shown.steam_at,
        likely,
        slow,
        fast
    )
}

/// When the heat goes off, ten minutes a tap.
fn ender(chosen: Chosen, shown: Known<Option<Warming>>) -> El {
    let full = move || shown.with(|shown| shown.as_ref().map_or(0, |shown| shown.full));
    let off = move || chosen.off.get().min(full());
    let name = t!("Heat off after, minutes");
    let set = move |minutes: u16| chosen.off.set(minutes);
    let less = el("button")
        .attr("type", "button")
        .attr("aria-label", t!("Heat off 10 minutes sooner"))
        .text("−")
        .disabled_if(move || off() == 0)
        .on("click", move |_| set(off().saturating_sub(STEP)));
    let more = el("button")
        .attr("type", "button")
        .attr("aria-label", t!("Heat off 10 minutes later"))
        .text("+")
        .disabled_if(move || off() == full())
        .on("click", move |_| set((off() + STEP).min(full())));
    let stepper = of("div", "stepper")
        .attr("role", "group")
        .attr("aria-label", name)
        .child(of("span", "name").text(name))
        .child(less)
        .child(el("output").text_by(move || off().to_string()))
        .child(more);
    el("div").child(stepper).child(button("second", t!("The full time"), move || set(full())))
}

fn questions(chosen: Chosen) -> Vec<El> {
    let jars: Vec<_> = offered_jars().into_iter().map(|jar| (jar.key(), jar.name())).collect();
    let jar = choices(
        t!("Jar"),
        "jar",
        &jars,
        derive(move || chosen.jar.get().key().to_owned()),
        move |key| chosen.jar.set(Jar::from_key(key).unwrap_or(Jar::Pint)),
    );
    let starts: Vec<(&'static str, String)> = FoodStart::ALL
        .iter()
        .map(|start| {
            let degrees = i32::from(start.fahrenheit());
            let celsius = (degrees - 32) * 5 / 9;
            (start.key(), format!("{degrees} °F ({celsius} °C)"))
        })
        .collect();
    let starts: Vec<_> = starts.iter().map(|(key, text)| (*key, text.as_str())).collect();
    let food = choices(
        t!("Fish goes in at"),
        "food",
        &starts,
        derive(move || chosen.food.get().key().to_owned()),
        move |key| chosen.food.set(FoodStart::from_key(key).unwrap_or(FoodStart::Cold)),
    );
    let pressure = region(move || {
        let texts: Vec<String> = settings(chosen.jar.get()).iter().map(setting_text).collect();
        let list: Vec<_> =
            PLACES.iter().zip(&texts).map(|(key, text)| (*key, text.as_str())).collect();
        let shown = derive(move || chosen.setting.get().to_string());
        let choose = move |key: &str| chosen.setting.set(key.parse().unwrap_or(0));
        vec![choices(t!("Pressure"), "pressure", &list, shown, choose)]
    });
    vec![jar, food, pressure]
}

fn setting_text(setting: &Setting) -> String {
    let (psi, feet) = (setting.psi, setting.to.feet());
    match setting.gauge {
        Gauge::Dial => t!("{} psi dial, to {} ft", psi, feet),
        Gauge::Weighted => t!("{} psi weight, to {} ft", psi, feet),
    }
}

fn table(shown: &Warming) -> El {
    let names =
        [t!("Heat off after"), t!("Cold point then"), t!("Killing heat, of the full time's")];
    let head = names.map(|name| say("th", name).attr("scope", "col"));
    let rows = shown.rows.iter().map(|row| {
        let [likely, slow, fast] = row.share;
        let share = match row.minutes == shown.full {
            true => "100 %".to_owned(),
            false => t!("{} % ({} to {} %)", likely, slow, fast),
        };
        let cells = [format!("{} min", row.minutes), row.cold.clone(), share];
        el("tr").children(cells.iter().map(|cell| say("td", cell)).collect())
    });
    el("details").child(say("summary", t!("As a table"))).child(
        of("table", "figures-table")
            .child(el("thead").child(el("tr").children(head.into())))
            .child(el("tbody").children(rows.collect())),
    )
}
