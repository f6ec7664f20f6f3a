//! The page's addresses, kept in the part after `#` so that any static host serves them.
//!
//! Invariant: `parse(format(route)) == route`; an address nobody knows is home.

use crate::batch::Id;

/// A screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Route {
    /// What is on now, and what is due.
    Today,
    /// Find a tested process and start a batch.
    Find,
    /// Find a tested process for a raw lot, which then becomes the batch.
    FindFor(Id),
    /// One batch: its record and labels.
    Batch(Id),
    /// One load of a batch: the run, the rest, the seal check.
    Load(Id, Id),
    /// Plan a canning day.
    Plan,
    /// The jars put up.
    Shelf,
    /// The raw lots before the canner.
    Raws,
    /// One raw lot.
    Raw(Id),
    /// Brine by weight.
    Brine,
    /// The jars of one load on the shelf.
    Lot(Id, Id),
    /// A year at the shelf.
    Year,
    /// Jars in doubt, and new doubts.
    Doubts,
    /// A doubt about a load.
    Doubt(Id, Id),
    /// Files out and in.
    HandOver,
    /// Canners, places, units, sound, storage.
    More,
    /// Canners with their gauges, and places.
    Canners,
    /// The heat a load was given.
    Heat(Id, Id),
    /// Why a jar needs the full time.
    Warming,
    /// Backup, tables, calendar.
    Files,
    /// Labels of a batch, to print.
    Labels(Id),
    /// A batch as a picture code.
    Picture(Id),
    /// What this tool is not.
    Safety,
}

impl Route {
    /// Reads the part of an address after `#`.
    #[must_use]
    pub fn parse(hash: &str) -> Self {
        let mut parts = hash.trim_start_matches('#').trim_matches('/').split('/');
        let word = parts.next();
        let mut id = || parts.next()?.parse::<Id>().ok();
        match word {
            Some("find") => id().map_or(Self::Find, Self::FindFor),
            Some("raws") => Self::Raws,
            Some("raw") => id().map_or(Self::Raws, Self::Raw),
            Some("brine") => Self::Brine,
            Some("batch") => id().map_or(Self::Today, Self::Batch),
            Some("load") => match (id(), id()) {
                (Some(batch), Some(load)) => Self::Load(batch, load),
                _ => Self::Today,
            },
            Some("plan") => Self::Plan,
            Some("shelf") => Self::Shelf,
            Some("lot") => match (id(), id()) {
                (Some(batch), Some(load)) => Self::Lot(batch, load),
                _ => Self::Shelf,
            },
            Some("year") => Self::Year,
            Some("doubts") => match (id(), id()) {
                (Some(batch), Some(load)) => Self::Doubt(batch, load),
                _ => Self::Doubts,
            },
            Some("hand-over") => Self::HandOver,
            Some("more") => Self::More,
            Some("canners") => Self::Canners,
            Some("heat") => match (id(), id()) {
                (Some(batch), Some(load)) => Self::Heat(batch, load),
                _ => Self::Today,
            },
            Some("warming") => Self::Warming,
            Some("files") => Self::Files,
            Some("labels") => id().map_or(Self::Today, Self::Labels),
            Some("picture") => id().map_or(Self::Today, Self::Picture),
            Some("safety") => Self::Safety,
            _ => Self::Today,
        }
    }

    /// Whether the whole screen belongs to the desk's half of the page, which is fetched
    /// when it is first needed; the stove's half draws the others.
    #[must_use]
    pub const fn is_desk(self) -> bool {
        !matches!(
            self,
            Self::Today
                | Self::Find
                | Self::Batch(_)
                | Self::Load(..)
                | Self::HandOver
                | Self::Safety
        )
    }

    /// The address, with its `#`.
    #[must_use]
    pub fn hash(self) -> String {
        match self {
            Self::Today => "#/".to_owned(),
            Self::Find => "#/find".to_owned(),
            Self::FindFor(lot) => format!("#/find/{lot}"),
            Self::Raws => "#/raws".to_owned(),
            Self::Raw(lot) => format!("#/raw/{lot}"),
            Self::Brine => "#/brine".to_owned(),
            Self::Batch(batch) => format!("#/batch/{batch}"),
            Self::Load(batch, load) => format!("#/load/{batch}/{load}"),
            Self::Plan => "#/plan".to_owned(),
            Self::Shelf => "#/shelf".to_owned(),
            Self::Lot(batch, load) => format!("#/lot/{batch}/{load}"),
            Self::Year => "#/year".to_owned(),
            Self::Doubts => "#/doubts".to_owned(),
            Self::Doubt(batch, load) => format!("#/doubts/{batch}/{load}"),
            Self::HandOver => "#/hand-over".to_owned(),
            Self::More => "#/more".to_owned(),
            Self::Canners => "#/canners".to_owned(),
            Self::Heat(batch, load) => format!("#/heat/{batch}/{load}"),
            Self::Warming => "#/warming".to_owned(),
            Self::Files => "#/files".to_owned(),
            Self::Labels(batch) => format!("#/labels/{batch}"),
            Self::Picture(batch) => format!("#/picture/{batch}"),
            Self::Safety => "#/safety".to_owned(),
        }
    }
}
