//! What is to be said of a dial gauge before it is trusted.
//!
//! Invariant: a correction only raises the pressure; a dial that may not be
//! corrected has no setting at all.

use crate::batch::{Household, LoadPlan};
use crate::physics::gauge::{DialCheck, DialError, DialRefusal};
use crate::process::Gauge;
use crate::units::{EpochMs, PsiGauge};
use crate::words::Word;
use crate::{t, w};

/// A dial's setting for a table's pressure, and what to say about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DialAdvice {
    /// What the dial must show; `None` if it may not be used.
    pub setting: Option<PsiGauge>,
    /// What to say, most important first.
    pub say: Vec<String>,
}

impl DialAdvice {
    /// Whether a run held to this pressure may not begin on the dial: it may not be used,
    /// or must show more.
    #[must_use]
    pub fn bars(&self, pressure: PsiGauge) -> bool {
        self.setting.is_none_or(|setting| setting > pressure)
    }
}

/// Where the rules on dial gauges are published.
pub const DIAL_RULES: Word = w!(
    "USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015; USDA, Home Canning of Meat and \
     Poultry, gage adjustments"
);

/// What the last check of a dial means for a run at the table's pressure.
#[must_use]
pub fn dial_advice(check: Option<DialCheck>, table: PsiGauge, now: EpochMs) -> DialAdvice {
    let Some(check) = check else {
        let say =
            t!("No check of this dial is on record. Have dials checked every year before use.");
        return DialAdvice { setting: Some(table), say: vec![say.to_owned()] };
    };
    let mut say = Vec::new();
    let setting = match check.corrected(table) {
        Ok(setting) => setting,
        Err(refusal) => return DialAdvice { setting: None, say: vec![refusal.to_string()] },
    };
    match check.verdict() {
        Ok(DialError::High(psi)) => say.push(t!(
            "This dial reads high: hold {} psi on it for the table's {}, {} psi more.",
            setting,
            table,
            psi
        )),
        Ok(DialError::Low) => {
            say.push(t!("This dial reads low. Nothing is taken off for that.").to_owned());
        }
        Ok(DialError::True) => say.push(t!("This dial read true when it was checked.").to_owned()),
        Err(refusal) => say.push(refusal.to_string()),
    }
    if let Err(late @ (DialRefusal::Overdue | DialRefusal::DatedAhead)) = check.in_date(now) {
        say.insert(0, late.to_string());
    }
    if check.better_replaced() {
        say.push(t!("At 1 psi off or more a new dial is the better choice.").to_owned());
    }
    DialAdvice { setting: Some(setting), say }
}

/// What is to be said of the dial a load is planned on, at each run: its canner is
/// found by any name it ever had. `None` for a weighted gauge.
#[must_use]
pub fn dial_at_run(household: &Household, plan: &LoadPlan, now: EpochMs) -> Option<DialAdvice> {
    if plan.gauge != Gauge::Dial {
        return None;
    }
    let table = plan.table_pressure();
    let mut advice = dial_advice(None, table, now);
    let mut first = true;
    // Where a name means several canners, the one that asks for most.
    for canner in household.named(&plan.canner) {
        let Some(check) = household.check(canner) else { continue };
        let other = dial_advice(Some(check), table, now);
        if first || advice.setting.is_some_and(|now| other.bars(now)) {
            advice = other;
        }
        first = false;
    }
    if let Some(setting) = advice.setting.filter(|setting| *setting > plan.pressure) {
        let say = t!(
            "This dial was checked after the load was planned, and must now show {} psi. Plan \
             another load of this batch: it takes the new figure.",
            setting
        );
        advice.say.insert(0, say);
    }
    Some(advice)
}
