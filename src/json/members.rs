//! The members of an object.
//!
//! Invariant: sorted by name, one value a name.

use super::Json;

/// The members of an object, by name.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Members(Vec<(String, Json)>);

impl Members {
    /// Adds a member; a later value takes the place of an earlier one. Whether it has
    /// come to stand last, as members do that are read in order.
    pub fn insert(&mut self, name: String, value: Json) -> bool {
        if self.0.last().is_none_or(|(last, _)| *last < name) {
            self.0.push((name, value));
            return true;
        }
        match self.place(&name) {
            Ok(place) => {
                if let Some(member) = self.0.get_mut(place) {
                    member.1 = value;
                }
            }
            Err(place) => self.0.insert(place, (name, value)),
        }
        false
    }

    /// The value of a member.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Json> {
        self.place(name).ok().and_then(|place| self.0.get(place)).map(|(_, value)| value)
    }

    /// Takes a member out.
    pub fn remove(&mut self, name: &str) -> Option<Json> {
        self.place(name).ok().map(|place| self.0.remove(place).1)
    }

    /// The one member, if there is just one.
    #[must_use]
    pub fn only(&self) -> Option<(&str, &Json)> {
        match self.0.as_slice() {
            [(name, value)] => Some((name, value)),
            _ => None,
        }
    }

    /// The members in order of name.
    pub fn iter(&self) -> impl Iterator<Item = &(String, Json)> {
        self.0.iter()
    }

    fn place(&self, name: &str) -> Result<usize, usize> {
        self.0.binary_search_by(|(own, _)| own.as_str().cmp(name))
    }
}
