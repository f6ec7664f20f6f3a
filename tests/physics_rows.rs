//! Every row of `tests/physics/physics.toml`, at its own tolerance. Each row
//! carries its source and whether it was seen, remembered or computed; rows
//! from memory are held to their tolerance as plausibility checks.
//!
//! Three worked examples of conduction (cond.geankoplis.5.3-3 and 5.3-4,
//! cond.singh.4.x) print answers read off a chart, 1.2 to 1.8 K from the exact
//! series, so they hold to 2 K only; the exact series of the same inputs holds
//! to 0.001 K.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

#[path = "physics/auxiliary.rs"]
mod auxiliary;
#[path = "physics/data.rs"]
mod data;
#[path = "physics/rows_air_steam.rs"]
mod rows_air_steam;
#[path = "physics/rows_heat.rs"]
mod rows_heat;
#[path = "physics/rows_lethality.rs"]
mod rows_lethality;

use data::Row;
use std::collections::HashSet;

/// What our code makes of a row, in the row's unit; `None` if nothing evaluates it.
fn evaluate(row: &Row) -> Option<f64> {
    match row.id.split('.').next()? {
        "atm" => rows_air_steam::atmosphere(row),
        "sat" | "sens" => rows_air_steam::saturation(row),
        "boil" | "gauge" | "inv" => rows_air_steam::steam(row),
        "leth" => rows_lethality::lethality(row),
        "cond" => rows_heat::conduction(row),
        "prop" => rows_heat::properties(row),
        _ => None,
    }
}

#[test]
fn every_row_is_evaluated_and_holds() {
    let rows = data::rows();
    let mut faults = Vec::new();
    for row in &rows {
        assert!(row.expected.is_finite() && row.tolerance >= 0.0, "{}: no check", row.id);
        assert!(!row.source.is_empty() && !row.state.is_empty(), "{}: no source", row.id);
        match evaluate(row) {
            None => faults.push(format!("{}: no evaluator ({})", row.id, row.quantity)),
            Some(got) if (got - row.expected).abs() <= row.tolerance => {}
            Some(got) => faults.push(format!(
                "{}: got {got}, expected {} within {} {} ({}; {})",
                row.id, row.expected, row.tolerance, row.unit, row.source, row.state
            )),
        }
    }
    assert!(faults.is_empty(), "{} rows fail:\n{}", faults.len(), faults.join("\n"));
    let ids: HashSet<_> = rows.iter().map(|row| &row.id).collect();
    assert_eq!((rows.len(), ids.len()), (435, 435), "a row was dropped or doubled");
}

#[test]
fn a_row_without_an_evaluator_is_noticed() {
    let mut row = data::rows().swap_remove(0);
    row.id = "atm.unheard-of".into();
    row.quantity = "unheard of".into();
    assert_eq!(evaluate(&row), None);
}
