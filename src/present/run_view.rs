//! The one screen of a running load: what to do now, the clock, the next tap.
//!
//! Invariant: exactly one main action a stage, and none that the stage machine
//! would refuse is shown as ready.

use super::time_text::words;
use crate::batch::Load;
use crate::process::Gauge;
use crate::run::{Page, Run, Stage, Step, Trust};
use crate::units::{EpochMs, Span};
use crate::words::Word;
use crate::{t, w};

/// Everything the screen shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RunView {
    /// What this stage is.
    pub title: String,
    /// What to do, in order.
    pub todo: Vec<String>,
    /// Habits worth mending here, each with its reason and publication.
    pub minds: Vec<Mind>,
    /// The clock.
    pub clock: Clock,
    /// The main action, if a step is what comes next.
    pub action: Option<Action>,
    /// Forward jump of the clock to be answered for.
    pub doubt: Option<Span>,
    /// What the clock did, in words.
    pub notices: Vec<String>,
}

/// A caution with its publication.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mind {
    /// The short rule.
    pub rule: Word,
    /// Why.
    pub why: Word,
    /// Where it is published.
    pub publication: Word,
}

/// What the clock shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clock {
    /// Nothing is timed yet.
    None,
    /// Time since the stage began; no time is set for it.
    Since(Span),
    /// Time still to run.
    Left {
        /// Time still to run.
        left: Span,
        /// The whole time.
        whole: Span,
        /// When it will be over.
        due: EpochMs,
    },
    /// The time is over.
    Over {
        /// For how long.
        by: Span,
        /// When it was over.
        due: EpochMs,
    },
}

/// The main action of a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Action {
    /// What the button says.
    pub label: String,
    /// What a tap records.
    pub step: Step,
    /// What is still missing; `None` when ready.
    pub wait: Option<Span>,
}

/// A shorter jump is not asked about: waiting it out costs less than the question.
const ASK_FROM: Span = Span::minutes(1);

const MIND_BANDS: Mind = Mind {
    rule: w!("Bands only fingertip tight"),
    why: w!(
        "Turn until the band first resists, then about a quarter turn more. Too tight, and air \
         cannot leave: lids buckle and jars may break."
    ),
    publication: w!(
        "USDA Complete Guide to Home Canning, Guide 1, p. 1-16, 2015; Clemson Extension, Tighten \
         Your Lids"
    ),
};
const MIND_HEADSPACE: Mind = Mind {
    rule: w!("Keep the full headspace: 1 in (25 mm) for fish"),
    why: w!(
        "The food swells and the jar needs room to draw a vacuum. Scant headspace pushes food \
         under the lid and spoils the seal."
    ),
    publication: w!(
        "USDA Complete Guide to Home Canning, Guide 1, p. 1-13, and Guide 5, pp. 5-10 to 5-14, 2015"
    ),
};
const MIND_TASTE: Mind = Mind {
    rule: w!("Taste nothing now, and nothing in doubt later"),
    why: w!(
        "Lightly smoked fish is not cooked. And you cannot taste whether a jar is safe: spoiled low-acid food may look, smell and taste like good food."
    ),
    publication: w!(
        "USDA Complete Guide to Home Canning, Guide 5, p. 5-13, and Guide 1, pp. 1-26 and 1-27, \
         2015"
    ),
};
/// Why the canner is vented before all else.
pub const MIND_VENT: Mind = Mind {
    rule: w!("Vent first, the whole time; the weight comes after"),
    why: w!("Air left inside keeps the canner cooler than the gauge says, and the food is \
         underprocessed. Raw packs such as fish suffer most."),
    publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015"),
};
const MIND_START: Mind = Mind {
    rule: w!("Start the time at pressure, not at heat on"),
    why: w!(
        "The time starts when the dial shows the pressure, or when the weight begins to jiggle \
         or rock as its maker describes. Nothing before that counts."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015"),
};
const MIND_HOLD: Mind = Mind {
    rule: w!("Steady pressure: as given or a little over"),
    why: w!(
        "One moment below it and the full time starts over. Fast swings drive liquid out of the \
         jars and spoil seals."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015"),
};
const MIND_COOL: Mind = Mind {
    rule: w!("No water, no opening the vent early"),
    why: w!(
        "Forced cooling can make the food unsafe, loses liquid, breaks seals and can warp the lid."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015"),
};
const MIND_OPEN: Mind = Mind {
    rule: w!("The whole wait, then open it away from you"),
    why: w!(
        "Keep the lid fastened for 10 minutes after the weight is off. Older leaflets say less; here the longer wait counts. Then lift the far edge first, so that the steam goes away from you."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015"),
};
const MIND_BANDS_AFTER: Mind = Mind {
    rule: w!("Never tighten bands now"),
    why: w!(
        "On a hot lid it can cut through the gasket, the soft ring that seals. Low liquid? Leave it: never open a jar to add more."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 1, pp. 1-16 and 1-25, 2015"),
};
const MIND_REST: Mind = Mind {
    rule: w!("Leave them alone for 12 to 24 hours"),
    why: w!("Undisturbed, at room temperature. Only then are bands taken off and seals checked."),
    publication: w!("USDA Complete Guide to Home Canning, Guide 1, pp. 1-21, 1-22 and 1-25, 2015"),
};
const MIND_STOPPED: Mind = Mind {
    rule: w!("Two hours at most, and no second run for a raw pack"),
    why: w!(
        "A load that was stopped may be run again only within 2 hours, and only if its food has a hot-pack process. Fish has none: eat it or freeze it at once, or throw it out."
    ),
    publication: w!(
        "Univ. of Nebraska-Lincoln Extension, Saving Home Canned Food When Jars Did Not Seal"
    ),
};
const MIND_SEAL: Mind = Mind {
    rule: w!("A seal proves nothing about the process"),
    why: w!("Food that did not get its full time is not safe, even with every lid down."),
    publication: w!("Ask Extension, answer 475755, August 2018"),
};

impl RunView {
    /// The screen of a load at an instant. `water` and `steps` are the process's
    /// own words on the canner water and on filling the jars.
    #[must_use]
    pub fn of(load: &Load, now: EpochMs, water: &str, fill: &[String]) -> Self {
        let run = &load.run;
        let psi = run.plan().pressure;
        let gauge = load.plan.gauge;
        let mut view = Self {
            title: String::new(),
            todo: Vec::new(),
            minds: Vec::new(),
            clock: clock(run, now),
            action: None,
            doubt: Some(run.doubtful_time())
                .filter(|doubt| *doubt >= ASK_FROM && run.is_timed_for_safety()),
            notices: notices(run),
        };
        let act = |label: String, step: Step| {
            let wait = run.left(now).filter(|left| *left > Span::ZERO);
            Some(Action { label, step, wait })
        };
        match run.stage() {
            Stage::Loading => {
                view.title = t!("Load the canner").to_owned();
                view.todo.push(t!("Water: {}", water));
                view.todo.extend_from_slice(fill);
                view.todo.push(t!("Jars upright on the rack.").to_owned());
                view.todo.push(t!("Lid fastened. Weight off or petcock open.").to_owned());
                view.minds = vec![MIND_BANDS, MIND_HEADSPACE, MIND_TASTE];
                view.action = act(t!("Heat is on").to_owned(), Step::HeatOn);
            }
            Stage::WarmUp(_) => {
                view.title = t!("Wait for steady steam").to_owned();
                view.todo.push(t!("High heat, vent open.").to_owned());
                view.todo.push(
                    t!("Wait until steam comes in a strong, steady funnel. Do not put the \
                         weight on.")
                    .to_owned(),
                );
                view.minds = vec![MIND_VENT];
                view.action =
                    act(t!("Steam is steady: vent {} min", run.plan().vent), Step::SteamSteady);
            }
            Stage::Venting(_) => {
                view.title = t!("Vent##now").to_owned();
                view.todo.push(t!("Keep high heat and the vent open the whole time.").to_owned());
                view.todo.push(
                    t!("When it is over, put the weight on or close the petcock. Then tap.")
                        .to_owned(),
                );
                view.minds = vec![MIND_VENT];
                view.action = act(t!("Vent is closed").to_owned(), Step::VentClosed);
            }
            Stage::Rising(_) => {
                view.title = t!("Bring it up to {} psi", psi);
                view.todo.push(t!("Keep the heat up until then.").to_owned());
                view.todo.push(match gauge {
                    Gauge::Dial => t!("Wait until the dial shows {} psi. Only then tap.", psi),
                    Gauge::Weighted => t!(
                        "Wait until the {} psi weight jiggles or rocks as its maker describes. \
                         Only then tap.",
                        psi
                    ),
                });
                view.minds = vec![MIND_START, MIND_HOLD];
                view.action =
                    act(t!("At {} psi: start {} min", psi, run.plan().hold), Step::AtPressure);
            }
            Stage::Holding(_) => {
                view.title = t!("Hold at {} psi or a little over", psi);
                view.todo.push(match gauge {
                    Gauge::Dial => t!("Keep the dial at {} psi or just above.", psi),
                    Gauge::Weighted => {
                        t!("Keep the weight moving as its maker describes. Listen for it.")
                            .to_owned()
                    }
                });
                view.todo.push(t!("When it is over, turn off the heat. Then tap.").to_owned());
                view.minds = vec![MIND_HOLD];
                view.action = act(t!("Heat is off").to_owned(), Step::HeatOff);
            }
            Stage::Falling(_) => {
                view.title = t!("Let it fall on its own").to_owned();
                view.todo.push(t!("No water over it, and do not open the vent.").to_owned());
                view.todo.push(t!("Move the canner off the burner if you can.").to_owned());
                view.todo.push(
                    t!("Leave it alone until the dial is at zero or the cover lock has dropped. \
                         An old heavy canner with neither: about 30 min with pints, 45 min with \
                         quarts.")
                    .to_owned(),
                );
                view.minds = vec![MIND_COOL];
                view.action = act(t!("At zero: weight is off").to_owned(), Step::WeightOff);
            }
            Stage::Standing(_) => {
                view.title = t!("Wait before the lid").to_owned();
                view.todo.push(t!("Weight off or petcock open. Leave the lid shut.").to_owned());
                view.minds = vec![MIND_OPEN];
                view.action = act(t!("Lid is open").to_owned(), Step::LidOpened);
            }
            Stage::Unloading(_) => {
                view.title = t!("Take the jars out##now").to_owned();
                view.todo.push(t!("Jar lifter below the band. Keep each jar upright.").to_owned());
                view.todo
                    .push(t!("On a towel or rack, 1 in (25 mm) apart, out of drafts.").to_owned());
                view.minds = vec![MIND_REST, MIND_BANDS_AFTER];
                view.action = act(t!("All jars are out").to_owned(), Step::Unloaded);
            }
            Stage::Resting(_) => {
                view.title = t!("Let the jars rest").to_owned();
                view.todo.push(t!("12 to 24 hours at room temperature. Touch nothing.").to_owned());
                view.minds = vec![MIND_REST, MIND_BANDS_AFTER];
            }
            Stage::Stopped(_) => {
                view.title = t!("Stopped: not processed").to_owned();
                view.todo.push(
                    t!("This load did not get its full time. Do not put it on the shelf, even \
                         if lids seal.")
                    .to_owned(),
                );
                view.todo.push(
                    t!("Still hot: eat it now or freeze it. Stood warm for over 2 hours, or you \
                         cannot say: throw it out where no animal can get it.")
                    .to_owned(),
                );
                view.minds = vec![MIND_STOPPED, MIND_SEAL];
            }
        }
        view
    }
}

/// What to say of a hold that another phone says broke.
#[must_use]
pub fn dispute(load: &Load) -> Option<&'static str> {
    if load.is_disputed() {
        return Some(t!(
            "Two phones disagree whether the pressure held. Until you settle it the full time does not count: eat none of these jars and give none away."
        ));
    }
    load.broke.map(|_| {
        t!(
            "Another phone says the pressure fell within this time. If so, tap Pressure dropped: the full time starts over."
        )
    })
}

/// What the clock of a run shows at an instant.
#[must_use]
pub fn clock(run: &Run, now: EpochMs) -> Clock {
    let Some(since) = run.stage().since() else { return Clock::None };
    match (run.least(), run.left(now), run.due()) {
        (Some(_), Some(left), Some(due)) if left == Span::ZERO => {
            Clock::Over { by: now.since(due).at_least_zero(), due }
        }
        (Some(whole), Some(left), Some(due)) => Clock::Left { left, whole, due },
        _ => Clock::Since(now.since(since).at_least_zero()),
    }
}

fn notices(run: &Run) -> Vec<String> {
    let mut notices = Vec::new();
    if let Some(restart) = run.restarts().last()
        && matches!(run.stage(), Stage::Rising(_) | Stage::Holding(_))
    {
        let held = words(restart.held);
        notices.push(t!(
            "Pressure dropped after {}. That time does not count: the full {} min run again.",
            held,
            run.plan().hold
        ));
    }
    if let Some(moved) = run.clock_moves().last()
        && run.stage().since().is_some_and(|since| moved.at >= since || moved.by < Span::ZERO)
    {
        // Two clocks were read for it: to the nearest second.
        let by = words(Span(moved.by.0.saturating_abs().saturating_add(500)));
        notices.push(match (moved.page, moved.by >= Span::ZERO, moved.trust) {
            (Page::Elsewhere, true, Trust::Given) => {
                t!("Another phone began this {} before. You said that is right: it counts.", by)
            }
            (Page::Elsewhere, ..) => {
                t!("Another phone began this step, and its clock may differ. Here the time counts from when this phone heard of it.")
                .to_owned()
            }
            (_, true, Trust::Refused | Trust::Open) => {
                t!("The phone's clock moved forward {}. That is not counted as time passed.", by)
            }
            (_, false, _) => {
                t!("The phone's clock was set back {}. The time left is kept right.", by)
            }
            (_, true, Trust::Given) => {
                t!("The phone slept {}. You said the clock is right: that time counts.", by)
            }
        });
    }
    notices
}
