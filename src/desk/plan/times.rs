//! The person's own times, what the stove burns, and when the day is.
//!
//! Invariant: what is left empty takes its published range, or is not counted and
//! said to be so.

use super::Plan;
use crate::app::device::local;
use crate::app::draw::{El, derive, el, link, of, region, say};
use crate::app::parts::{choices, section};
use hearthjar::plan::{Field, Moment, Wall, resolve};
use hearthjar::present::Route;
use hearthjar::process::Pack;
use hearthjar::t;

/// The form's part on times.
pub(super) fn form(plan: Plan) -> Vec<El> {
    let smoked = plan.part(|draft| draft.pack == Pack::Smoked);
    let own = region(move || {
        let mut lines = vec![
            of("p", "quiet").text(
                t!(
                "Minutes, such as 60 or 60 to 90. Left empty, a step takes its published time; without \
                 one it is not counted."
            ),
            ),
            plan.line(t!("Thaw in the refrigerator, hours"), "text", Field::Thaw),
            plan.line(t!("In the brine"), "text", Field::Brine),
            plan.line(t!("Drip and dry"), "text", Field::Drip),
        ];
        if smoked.get() {
            lines.push(of("p", "quiet").text(
                t!(
                "Brining is yours to give: the times on file are for smoking to eat now, not to can."
            ),
            ));
            lines.push(plan.line(t!("In the smoke, 120 at most"), "text", Field::Smoke));
            let brine = link("", &Route::Brine.hash(), t!("Make the brine by weight"));
            lines.push(of("p", "over-title").child(brine));
        }
        lines.push(plan.line(t!("Pack and load one canner"), "text", Field::Pack));
        lines.push(plan.line(t!("Take the jars out"), "text", Field::Unload));
        lines.push(plan.line(t!("Ready the canner for its next load"), "text", Field::Between));
        lines.push(of("p", "quiet").text(
            t!(
            "What a stove burns is not published anywhere we read. Weigh a cylinder before and after a \
             run, and give your own figure."
        ),
        ));
        lines.push(plan.line(t!("Fuel the stove burns in an hour"), "decimal", Field::Burn));
        lines.push(plan.line(t!("Counted in, such as lb or kWh"), "text", Field::BurnUnit));
        lines
    });
    let when = [("ends", t!("Jars out by")), ("begins", t!("Begin at"))];
    let now = derive(move || {
        plan.draft.with(|draft| if draft.ends { "ends" } else { "begins" }).to_owned()
    });
    vec![
        el("details").child(say("summary", t!("Your own times and fuel"))).child(own),
        section(t!("When")),
        choices(t!("The time given is"), "plan-when", &when, now, move |key| {
            plan.change(|draft| draft.ends = key == "ends");
        }),
        of("div", "pair when").child(plan.line(t!("Date"), "date", Field::Date)).child(plan.line(
            t!("Time"),
            "time",
            Field::Time,
        )),
        region(move || {
            let said = moment(plan).and_then(Moment::words);
            said.map(|said| of("p", "said").text(said)).into_iter().collect()
        }),
    ]
}

/// The instant that was typed, in the browser's zone.
pub(super) fn moment(plan: Plan) -> Option<Moment> {
    let wall =
        plan.draft.with(|draft| Wall::parse(draft.text(Field::Date), draft.text(Field::Time)))?;
    Some(resolve(wall, &local::offset))
}
