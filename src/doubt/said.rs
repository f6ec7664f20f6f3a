//! The words of a doubt: written into the record in English, shown in the language in
//! use.
//!
//! Invariant: words that nothing here wrote are shown as they are; in English all are.

use crate::batch::Cause;
use crate::t;
use crate::units::Altitude;

/// The words for a dial that read high, in tenths of a psi, as a check of `day` found.
#[must_use]
pub fn gauge_high(canner: &str, tenths: i16, day: &str) -> String {
    format!("{canner}: dial {}.{} psi high on {day}", tenths / 10, tenths % 10)
}

/// The words for the altitude that was canned at; the place may be without a name.
#[must_use]
pub fn canned_at(place: &str, used: Altitude) -> String {
    match place {
        "" => format!("Canned at {} ft", used.feet()),
        place => format!("{place}, canned at {} ft", used.feet()),
    }
}

/// Adds the true altitude to the words of [`canned_at`].
pub fn add_really(said: &mut String, really: Altitude) {
    said.push_str(&format!(", really {} ft", really.feet()));
}

/// The words for a lot of lids that fail.
#[must_use]
pub fn lids_of(lot: &str) -> String {
    format!("Lids of lot {lot}")
}

/// The words for a dip of the pressure in a load, noticed too late.
#[must_use]
pub fn late_dip(content: &str, load: u16) -> String {
    format!("{content}, load {load}: pressure fell, noticed too late")
}

/// The words for a doubt about a whole batch.
#[must_use]
pub fn whole_batch(content: &str) -> String {
    format!("{content}: the whole batch")
}

/// The words of the record in the language in use.
#[must_use]
pub fn shown(cause: Cause, said: &str) -> String {
    translated(cause, said).unwrap_or_else(|| said.to_owned())
}

fn translated(cause: Cause, said: &str) -> Option<String> {
    Some(match cause {
        Cause::GaugeHigh => {
            let (rest, day) = said.rsplit_once(" psi high on ")?;
            let (canner, psi) = rest.rsplit_once(": dial ")?;
            t!("{}: dial {} psi high on {}", canner, psi, day)
        }
        Cause::WrongAltitude => {
            let said = said.strip_suffix(" ft")?;
            match said.rsplit_once(" ft, really ") {
                Some((at, really)) => t!("{}, really {} ft", canned(at)?, really),
                None => canned(said)?,
            }
        }
        Cause::LidLot => t!("Lids of lot {}", said.strip_prefix("Lids of lot ")?),
        Cause::LateDip => {
            let load = said.strip_suffix(": pressure fell, noticed too late")?;
            let (content, load) = load.rsplit_once(", load ")?;
            t!("{}, load {}: pressure fell, noticed too late", content, load)
        }
        Cause::Batch => t!("{}: the whole batch", said.strip_suffix(": the whole batch")?),
    })
}

/// What [`canned_at`] wrote, without its unit.
fn canned(said: &str) -> Option<String> {
    match said.rsplit_once(", canned at ") {
        Some((place, feet)) => Some(t!("{}, canned at {} ft", place, feet)),
        None => Some(t!("Canned at {} ft", said.strip_prefix("Canned at ")?)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_known_again_and_reads_the_same_in_english() {
        let at = Altitude::SEA_LEVEL;
        let mut really = canned_at("Cabin, canned at home", at);
        add_really(&mut really, at);
        for (cause, said) in [
            (Cause::GaugeHigh, gauge_high("Old: dial canner", 12, "2026-11-02")),
            (Cause::WrongAltitude, canned_at("", at)),
            (Cause::WrongAltitude, canned_at("Cabin", at)),
            (Cause::WrongAltitude, really),
            (Cause::LidLot, lids_of("A {7}")),
            (Cause::LateDip, late_dip("Char, load of May", 3)),
            (Cause::Batch, whole_batch("Pike: {}")),
        ] {
            assert_eq!(translated(cause, &said).as_deref(), Some(said.as_str()));
        }
    }

    #[test]
    fn other_words_are_shown_as_they_are() {
        let all =
            [Cause::GaugeHigh, Cause::WrongAltitude, Cause::LateDip, Cause::LidLot, Cause::Batch];
        for cause in all {
            assert_eq!(shown(cause, "The lid rattled ft"), "The lid rattled ft");
        }
    }
}
