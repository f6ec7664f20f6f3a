//! A lot as a line of text: how the shelf is kept between two visits.
//!
//! Invariant: a line reads back as the same lot, or not at all. It holds nothing that the
//! record does not, and may be lost.

use super::lot::{BEST_WITHIN, Lot};
use crate::batch::{Id, Text};
use crate::process::{Food, Jar as JarSize, Pack};
use crate::units::EpochMs;

impl Lot {
    /// The lot as one line; `None` if a product of a newer build has a name that no line
    /// can hold.
    #[must_use]
    pub fn to_line(&self) -> Option<String> {
        if !is_kept(&self.product) {
            return None;
        }
        let several = if self.of_several { "+" } else { "" };
        let place = self.place.as_ref().map_or_else(String::new, |at| format!("={}", at.as_str()));
        Some(format!(
            "{}\t{}\t{}{several}\t{}\t{}\t{}\t{}\t{}\t{place}\t{}\t{}\t{}",
            self.batch,
            self.load,
            self.load_number,
            self.canned.0,
            self.pack.key(),
            self.size.key(),
            self.product,
            self.content.as_str(),
            numbers(&self.jars),
            numbers(&self.held),
            self.words,
        ))
    }

    /// The lot of a line; `None` if it is not the line of one.
    #[must_use]
    pub fn from_line(line: &str) -> Option<Self> {
        let mut fields = line.split('\t');
        let mut next = || fields.next();
        let batch: Id = next()?.parse().ok()?;
        let load = next()?.parse().ok()?;
        let number = next()?;
        let several = number.strip_suffix('+');
        let canned = EpochMs(next()?.parse().ok()?);
        let pack = Pack::from_key(next()?)?;
        let size = JarSize::from_key(next()?)?;
        let product = next().filter(|product| is_kept(product))?.to_owned();
        let content = text(next()?)?;
        let place = match next()? {
            "" => None,
            place => Some(text(place.strip_prefix('=')?)?),
        };
        let lot = Self {
            batch,
            load,
            load_number: several.unwrap_or(number).parse().ok()?,
            of_several: several.is_some(),
            group: Food::by_key(&product).map(Food::group),
            content,
            product,
            pack,
            size,
            canned,
            best_by: canned.plus(BEST_WITHIN),
            place,
            jars: numbered(next()?)?,
            held: numbered(next()?)?,
            words: next()?.to_owned(),
        };
        fields.next().is_none().then_some(lot)
    }
}

/// Whether a line can hold the name of a product: a `Text` it always can.
fn is_kept(product: &str) -> bool {
    !product.contains(char::is_control)
}

fn text(line: &str) -> Option<Text> {
    Text::new(line).ok().filter(|text| text.as_str() == line)
}

fn numbers(list: &[u16]) -> String {
    list.iter().map(u16::to_string).collect::<Vec<String>>().join(",")
}

fn numbered(list: &str) -> Option<Vec<u16>> {
    if list.is_empty() {
        return Some(Vec::new());
    }
    list.split(',').map(|number| number.parse().ok()).collect()
}
