//! The one screen of a running load: what to do now, the clock, the next tap.
//!
//! Invariant: exactly one main action a stage, and none that the stage machine
//! would refuse is shown as ready.

use super::time_text::words;
use crate::batch::Load;
use crate::process::Gauge;
use crate::run::{Page, Run, Stage, Step, Trust};
use crate::t;
use crate::units::{EpochMs, Span};

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
    pub rule: &'static str,
    /// Why.
    pub why: &'static str,
    /// Where it is published.
    pub publication: &'static str,
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
    rule: "Bands only fingertip tight",
    why: "Turn until the band first resists, then about a quarter turn more. Too tight, and air \
          cannot leave: lids buckle and jars may break.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, p. 1-16, 2015; Clemson \
                  Extension, Tighten Your Lids",
};
const MIND_HEADSPACE: Mind = Mind {
    rule: "Keep the full headspace: 1 in (25 mm) for fish",
    why: "The food swells and the jar needs room to draw a vacuum. Scant headspace pushes food \
          under the lid and spoils the seal.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, p. 1-13, and Guide 5, \
                  pp. 5-10 to 5-14, 2015",
};
const MIND_TASTE: Mind = Mind {
    rule: "Taste nothing now, and nothing in doubt later",
    why: "Lightly smoked fish is not cooked. And no taste tells whether a jar is safe: low-acid \
          food that has spoiled may show little or nothing.",
    publication: "USDA Complete Guide to Home Canning, Guide 5, p. 5-13, and Guide 1, \
                  pp. 1-26 and 1-27, 2015",
};
const MIND_VENT: Mind = Mind {
    rule: "Vent first, the whole time; the weight comes after",
    why: "Air left inside keeps the canner cooler than the gauge says, and the food is \
          underprocessed. Raw packs such as fish suffer most.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015",
};
const MIND_START: Mind = Mind {
    rule: "Time it from the figure, not from the heat",
    why: "The time starts when the dial shows the pressure, or when the weight begins to jiggle or \
          rock as its maker describes. Nothing before that counts.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015",
};
const MIND_HOLD: Mind = Mind {
    rule: "At the figure or a little over, steadily",
    why: "One moment below it and the full time starts over. Fast swings drive liquid out of the \
          jars and spoil seals.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015",
};
const MIND_COOL: Mind = Mind {
    rule: "No water, no opening the vent early",
    why: "Forced cooling can make the food unsafe, loses liquid, breaks seals and can warp the lid.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015",
};
const MIND_OPEN: Mind = Mind {
    rule: "The whole wait, then open it away from you",
    why: "The lid stays fastened for 10 minutes after the weight is off; older leaflets say less, \
          the longer wait is kept. Then lift the far edge first: the steam goes away from you.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015",
};
const MIND_BANDS_AFTER: Mind = Mind {
    rule: "Never tighten bands now",
    why: "On a hot lid it can cut through the gasket and break the seal. Low liquid? Leave it: a \
          jar is judged by its seal, not opened to top up.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, pp. 1-16 and 1-25, 2015",
};
const MIND_REST: Mind = Mind {
    rule: "Leave them alone for 12 to 24 hours",
    why: "Undisturbed, at room temperature. Only then are bands taken off and seals checked.",
    publication: "USDA Complete Guide to Home Canning, Guide 1, pp. 1-21, 1-22 and 1-25, 2015",
};
const MIND_STOPPED: Mind = Mind {
    rule: "Two hours at most, and no second run for a raw pack",
    why: "Food that went wrong in the canner may be run again only within 2 hours and only by a \
          hot-pack direction. Fish has none, so it is eaten or frozen at once, or thrown out.",
    publication: "Univ. of Nebraska-Lincoln Extension, Saving Home Canned Food When Jars Did Not \
                  Seal",
};
const MIND_SEAL: Mind = Mind {
    rule: "A seal proves nothing about the process",
    why: "Food that did not get its full time is not safe, even with every lid down.",
    publication: "Ask Extension, answer 475755, August 2018",
};

impl RunView {
    /// The screen of a load at an instant. `water` and `steps` are the process's
    /// own words on the canner water and on filling the jars.
    #[must_use]
    pub fn of(load: &Load, now: EpochMs, water: &str, fill: &[String]) -> Self {
        let run = &load.run;
        let psi = run.plan().pressure;
        let gauge = load.plan.gauge;
        let at_figure = match gauge {
            Gauge::Dial => format!("the dial shows {psi} psi"),
            Gauge::Weighted => {
                format!("the {psi} psi weight jiggles or rocks as its maker describes")
            }
        };
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
                view.title = "Load the canner".to_owned();
                view.todo.push(format!("Water: {water}"));
                view.todo.extend_from_slice(fill);
                view.todo.push("Jars upright on the rack.".to_owned());
                view.todo.push("Lid fastened. Weight off or petcock open.".to_owned());
                view.minds = vec![MIND_BANDS, MIND_HEADSPACE, MIND_TASTE];
                view.action = act("Heat is on".to_owned(), Step::HeatOn);
            }
            Stage::WarmUp(_) => {
                view.title = "Wait for steady steam".to_owned();
                view.todo.push("High heat, vent open.".to_owned());
                view.todo.push(
                    "Wait until steam comes in a strong, steady funnel. Do not put the weight on."
                        .to_owned(),
                );
                view.minds = vec![MIND_VENT];
                view.action = act(
                    format!("Steam is steady: vent {} min", run.plan().vent),
                    Step::SteamSteady,
                );
            }
            Stage::Venting(_) => {
                view.title = "Vent".to_owned();
                view.todo.push("Keep high heat and the vent open the whole time.".to_owned());
                view.minds = vec![MIND_VENT];
                view.action = act("Vent is closed".to_owned(), Step::VentClosed);
            }
            Stage::Rising(_) => {
                view.title = format!("Bring it up to {psi} psi");
                view.todo.push(format!("Wait until {at_figure}. Only then tap."));
                view.minds = vec![MIND_START, MIND_HOLD];
                view.action =
                    act(format!("At {psi} psi: start {} min", run.plan().hold), Step::AtPressure);
            }
            Stage::Holding(_) => {
                view.title = format!("Hold at {psi} psi or a little over");
                view.todo.push(match gauge {
                    Gauge::Dial => format!("Keep the dial at {psi} psi or just above."),
                    Gauge::Weighted => {
                        "Keep the weight moving as its maker describes. Listen for it.".to_owned()
                    }
                });
                view.minds = vec![MIND_HOLD];
                view.action = act("Heat is off".to_owned(), Step::HeatOff);
            }
            Stage::Falling(_) => {
                view.title = "Let it fall on its own".to_owned();
                view.todo.push("Move the canner off the burner if you can.".to_owned());
                view.todo.push(
                    "Leave it alone until the dial is at zero or the cover lock has dropped. An \
                     old heavy canner with neither: about 30 min with pints, 45 min with quarts."
                        .to_owned(),
                );
                view.minds = vec![MIND_COOL];
                view.action = act("At zero: weight is off".to_owned(), Step::WeightOff);
            }
            Stage::Standing(_) => {
                view.title = "Wait before the lid".to_owned();
                view.todo.push("Weight off or petcock open. Leave the lid shut.".to_owned());
                view.minds = vec![MIND_OPEN];
                view.action = act("Lid is open".to_owned(), Step::LidOpened);
            }
            Stage::Unloading(_) => {
                view.title = "Take the jars out".to_owned();
                view.todo.push("Jar lifter below the band. Keep each jar upright.".to_owned());
                view.todo.push("On a towel or rack, 1 in (25 mm) apart, out of drafts.".to_owned());
                view.minds = vec![MIND_REST, MIND_BANDS_AFTER];
                view.action = act("All jars are out".to_owned(), Step::Unloaded);
            }
            Stage::Resting(_) => {
                view.title = "Let the jars rest".to_owned();
                view.todo.push("12 to 24 hours at room temperature. Touch nothing.".to_owned());
                view.minds = vec![MIND_REST, MIND_BANDS_AFTER];
            }
            Stage::Stopped(_) => {
                view.title = "Stopped: not processed".to_owned();
                view.todo.push(
                    "This load did not get its full time. Do not put it on the shelf, even if \
                     lids seal."
                        .to_owned(),
                );
                view.todo.push(
                    "Still hot: eat it now or freeze it. Stood warm for over 2 hours, or you \
                     cannot say: throw it out where no animal can get it."
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
        notices.push(format!(
            "Pressure dropped after {held}. That time does not count: the full {} min run again.",
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
                format!("Another phone began this {by} before. You said that is right: it counts.")
            }
            (Page::Elsewhere, ..) => "Another phone began this step by its own clock. On this \
                                      phone the time counts from when it came here."
                .to_owned(),
            (_, true, Trust::Refused | Trust::Open) => {
                format!("The phone's clock moved forward {by}. That is not counted as time passed.")
            }
            (_, false, _) => {
                format!("The phone's clock was set back {by}. The time left is kept right.")
            }
            (_, true, Trust::Given) => {
                format!("The phone slept {by}. You said the clock is right: that time counts.")
            }
        });
    }
    notices
}
