//! What to know at each step before the canner.
//!
//! Invariant: where salt or smoke might be taken for preservation, the step says
//! that it is none; every sentence names its publication.

use super::step::LotStep;
use crate::process::{Caution, Group};
use crate::w;
use crate::words::Word;

const GUIDE_5_FISH: Word =
    w!("USDA Complete Guide to Home Canning, Guide 5, pp. 5-10 and 5-11, 2015");
const GUIDE_5_SMOKED: Word = w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-13, 2015");
const GUIDE_1_SALT: Word = w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-31, 2015");

const CAUGHT: &[Caution] = &[
    Caution { text: w!("Bleed and gut now. Then ice."), publication: GUIDE_5_FISH },
    Caution {
        text: w!("Ice from the catch on: below 40 F (4 C)."),
        publication: w!("PNW 194, Canning Seafood"),
    },
];
const CLEANED: &[Caution] = &[
    Caution { text: w!("Keep it on ice until it is canned."), publication: GUIDE_5_FISH },
    Caution {
        text: w!("Not canned within 2 days of the catch: freeze it."),
        publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-11, 2015; PNW 194"),
    },
];
const FROZEN: &[Caution] = &[Caution {
    text: w!(
        "The clocks of catch and smoke stand still in the freezer (our reading of the freezing \
           advice). Time spent out of the cold before is not given back."
    ),
    publication: w!("PNW 194, Canning Seafood; USDA Complete Guide, Guide 5, p. 5-13, 2015"),
}];
const THAWING: &[Caution] = &[Caution {
    text: w!(
        "Thaw it in the refrigerator, never on the counter. Smoked fish: until no ice crystal is \
           left."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 5, pp. 5-10 and 5-13, 2015"),
}];
const BRINING: &[Caution] = &[
    Caution {
        text: w!(
            "Brine in the refrigerator, below 38 F (3 C), pieces no thicker than 1 in (2.5 cm)."
        ),
        publication: w!("Alaska Cooperative Extension column, July 2001 (FNH-00325)"),
    },
    Caution {
        text: w!(
            "Salt keeps nothing here. Brined fish cannot stand out or wait on a shelf: only the \
               full pressure process makes it keep."
        ),
        publication: GUIDE_1_SALT,
    },
];
const DRAINING: &[Caution] = &[
    Caution {
        text: w!(
            "Rinse, then air-dry until the skin is tacky. Keep it short: the risk of spoilage \
               grows with time."
        ),
        publication: w!("Kitsap Cooperative Extension, October 1992; Univ. of Alaska Fairbanks \
                      FNH-00325"),
    },
    Caution {
        text: w!("It is out of the cold here unless it dries in the refrigerator. Such times are \
               added up."),
        publication: w!("common practice, no source"),
    },
];
const SMOKING: &[Caution] = &[
    Caution {
        text: w!(
            "Light smoke only, 2 hours at most. It does not cook the fish: never taste it before \
               canning."
        ),
        publication: w!(
            "USDA Complete Guide to Home Canning, Guide 5, p. 5-13, 2015; WSU Extension, \
                      Smoking/Curing"
        ),
    },
    Caution {
        text: w!(
            "Smoke keeps nothing. Lightly smoked fish is as perishable as raw fish until it has \
               had its full 110 minutes at pressure."
        ),
        publication: GUIDE_5_SMOKED,
    },
];
const HELD: &[Caution] = &[
    Caution {
        text: w!(
            "Smoked: can it at once, or after 1 day at most in the refrigerator. Later than that \
               it is not canned."
        ),
        publication: w!("PNW 450, Canning Smoked Fish at Home"),
    },
    Caution {
        text: w!("Neither salt nor smoke replaces the cold, and neither replaces the canner."),
        publication: GUIDE_1_SALT,
    },
];
const PACKING: &[Caution] = &[
    Caution {
        text: w!("Pack and put the heat on without a break: the clock runs until then."),
        publication: w!("FDA and USDA consumer advice, 2016 and 2017 (2 hours)"),
    },
    Caution {
        text: w!(
            "Add no liquid to raw or smoked fish, and no brine: the soak is not a packing liquid."
        ),
        publication: w!("USDA Complete Guide to Home Canning, Guide 5, pp. 5-10 to 5-13, 2015"),
    },
];
const SMOKED_OTHER: &[Caution] = &[Caution {
    text: w!(
        "Only fish has a tested process for light smoke. Smoked shellfish, meat or poultry cannot \
           be canned: freeze it."
    ),
    publication: GUIDE_5_SMOKED,
}];
const COLD_MEAT: &[Caution] = &[Caution {
    text: w!("Keep it in the refrigerator until it is packed."),
    publication: w!("FDA and USDA consumer advice, 2016 and 2017"),
}];

/// What to know at a step, for a food of a group.
#[must_use]
pub const fn step_words(step: LotStep, group: Option<Group>) -> &'static [Caution] {
    let fish = matches!(group, Some(Group::Fish));
    let sea = matches!(group, Some(Group::Fish | Group::Shellfish));
    match step {
        LotStep::Smoking if !fish => SMOKED_OTHER,
        LotStep::Caught if fish => CAUGHT,
        LotStep::Cleaned if sea => CLEANED,
        LotStep::Caught | LotStep::Cleaned => COLD_MEAT,
        LotStep::Frozen if sea => FROZEN,
        LotStep::Frozen => &[],
        LotStep::Thawing => THAWING,
        LotStep::Brining => BRINING,
        LotStep::Draining => DRAINING,
        LotStep::Smoking => SMOKING,
        LotStep::Held => HELD,
        LotStep::Packing if fish => PACKING,
        LotStep::Packing => &[],
    }
}
