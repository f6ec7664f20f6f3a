//! What a row, a jar, a note, a refusal and a rule say of themselves, each against
//! what is printed or against a standard of measures.
//!
//! Outside sources: USDA Complete Guide to Home Canning, AIB 539, revised 2015, by the
//! pages named; NIST Handbook 44, appendix C (1 US fl oz = 29.573 529 562 5 mL).
#![allow(clippy::unwrap_used)] // a failed test may panic

use hearthjar::process::{
    CannerQuarts, Gauge, Jar, Pack, PrepStep, Question, Refusal, Vessel, any_rule, by_id, find,
    processes, refusals, rule,
};
use hearthjar::units::{Altitude, PsiGauge};
use std::collections::BTreeSet;

#[test]
fn a_jar_holds_what_its_name_says() {
    // Sizes and their names: Guide 1, p. 1-13; the metric ones are named by content.
    for (jar, name, ounces) in [
        (Jar::FourOunce, "4 oz", Some(4.0)),
        (Jar::HalfPint, "half-pint", Some(8.0)),
        (Jar::Ml250, "250 mL", None),
        (Jar::TwelveOunce, "12 oz", Some(12.0)),
        (Jar::Pint, "pint", Some(16.0)),
        (Jar::Ml500, "500 mL", None),
        (Jar::PintAndHalf, "1 1/2 pint", Some(24.0)),
        (Jar::Quart, "quart", Some(32.0)),
        (Jar::Ml1000, "1 litre", None),
        (Jar::HalfGallon, "half-gallon", Some(64.0)),
    ] {
        assert_eq!(jar.name(), name);
        let wanted = match ounces {
            Some(ounces) => ounces * 29.573_529_562_5,
            None => name.split(' ').next().unwrap().parse::<f64>().unwrap(),
        };
        let wanted = if jar == Jar::Ml1000 { 1_000.0 } else { wanted };
        assert!((f64::from(jar.millilitres()) - wanted).abs() <= 0.5, "{name}");
    }
    // A jar is answered for by a larger one, or by none.
    for jar in Jar::ALL {
        assert!(jar.answered_by().is_none_or(|by| by.millilitres() > jar.millilitres()));
    }
    // The styles of pack: Guide 1, p. 1-13; Guide 5, pp. 5-13 and 5-15.
    let packs: Vec<&str> = Pack::ALL.iter().map(|pack| pack.name()).collect();
    assert_eq!(packs, ["raw pack", "hot pack", "lightly smoked", "precooked"]);
    // The two gauges: Guide 1, p. 1-20.
    let gauges: Vec<&str> = Gauge::ALL.iter().map(|gauge| gauge.name()).collect();
    assert_eq!(gauges, ["dial gauge", "weighted gauge"]);
}

#[test]
fn a_canner_of_no_such_size_is_refused_with_a_sentence() {
    // Four to sixty quarts: the sizes that are sold, common practice, no source.
    for quarts in 0..=u8::MAX {
        match CannerQuarts::new(quarts) {
            Ok(size) => assert!((4..=60).contains(&quarts) && size.get() == quarts),
            Err(error) => {
                assert!(!(4..=60).contains(&quarts));
                assert!(error.to_string().contains("4 to 60 quarts"));
            }
        }
    }
}

#[test]
fn a_row_is_found_by_its_key_and_tells_its_own_pressures() {
    for row in processes() {
        assert!(std::ptr::eq(by_id(row.id()).unwrap(), row));
        // Guide 5, p. 5-13: only smoked fish names the canners it was worked out in.
        let smoked = row.product() == "smoked-fish";
        assert_eq!(row.canner_quarts(), smoked.then_some((16, 22)), "{}", row.id());
        for gauge in [Gauge::Dial, Gauge::Weighted] {
            let printed: Vec<(PsiGauge, i32)> =
                row.pressures(gauge).map(|(psi, top)| (psi, top.feet())).collect();
            // The columns of every table: dial gauges in four bands to 8,000 ft, weights
            // in two, the upper one without an end; the tables end at 8,000 ft.
            let tops: Vec<i32> = printed.iter().map(|(_, top)| *top).collect();
            let columns: &[i32] = match gauge {
                Gauge::Dial => &[2_000, 4_000, 6_000, 8_000],
                Gauge::Weighted => &[1_000, 8_000],
            };
            assert_eq!(tops, columns, "{}", row.id());
            assert_eq!(printed.first().map(|(psi, _)| *psi), Some(row.lowest_pressure(gauge)));
            let at = |feet| row.pressure_at(gauge, Altitude::from_feet(feet).unwrap());
            for (place, (psi, top)) in printed.iter().enumerate() {
                assert_eq!(at(*top), Some(*psi), "{} at {top} ft", row.id());
                let above = printed.get(place + 1).map(|(psi, _)| *psi);
                assert_eq!(at(top + 1), above, "{} above {top} ft", row.id());
            }
        }
    }
    assert!(by_id("no such row").is_none());
    // Guide 5, pp. 5-10 and 5-13.
    let products: BTreeSet<&str> = processes().iter().map(|row| row.product()).collect();
    assert!(products.contains("fish") && products.contains("smoked-fish"));
}

#[test]
fn notes_stand_at_their_own_step_with_their_publication() {
    let mut elsewhere = 0;
    for row in processes() {
        let steps = [PrepStep::Keep, PrepStep::Prepare, PrepStep::Fill, PrepStep::Open];
        let by_step: Vec<_> = steps.into_iter().flat_map(|step| row.notes_at(step)).collect();
        assert_eq!(by_step.len(), row.notes().len(), "{}", row.id());
        for step in steps {
            assert!(row.notes_at(step).all(|note| note.at() == step));
        }
        for note in row.notes() {
            assert!(note.text().ends_with('.') || note.text().contains(' '), "{}", note.text());
            if let Some(publication) = note.publication() {
                elsewhere += 1;
                // What is not of the row's own pages names an issuer and a place in it.
                assert!(publication.len() > 10, "{}: {publication}", note.text());
            }
        }
    }
    assert!(elsewhere > 0);
}

#[test]
fn a_refusal_says_why_what_else_and_where_it_is_published() {
    let names: BTreeSet<&str> = refusals().iter().map(Refusal::id).collect();
    assert_eq!(names.len(), refusals().len());
    assert!(names.contains("half-gallon"));
    let vessels = [
        (Vessel::BoilingWater, "boiling-water"),
        (Vessel::AtmosphericSteam, "atmospheric-steam"),
        (Vessel::Multicooker, "multicooker"),
        (Vessel::SmallPressureCanner, "small-pressure-canner"),
        (Vessel::Oven, "oven"),
    ];
    for (vessel, id) in vessels {
        let (food, pack, jar) = ("fish", Pack::Raw, Jar::Pint);
        let question = Question { food, pack, jar, vessel, altitude: Altitude::SEA_LEVEL };
        let refusal = find(&question).unwrap_err();
        assert_eq!(refusal.id(), id);
        assert!(refusal.instead().len() > 20, "{id}");
        assert!(refusal.reason() != refusal.instead());
        assert!(refusal.publication().len() > 10, "{id}");
    }
}

#[test]
fn a_rule_is_found_by_its_key_with_its_figures_and_its_page() {
    // USDA Complete Guide to Home Canning, Guide 1.
    for (id, words, page, early) in [
        ("seal-press", "springs back: not sealed", "1-25", true),
        ("unsealed-reprocess", "24 hours", "1-26", true),
        ("unsealed-freeze", "1 1/2 in", "1-26", true),
        ("discard-open", "boil 30 minutes", "1-27", true),
        ("vent", "10 minutes", "1-20", false),
        ("restart", "again from zero", "1-22", false),
        ("store", "50 to 70 F", "1-12", false),
        ("discard-clean", "30 minutes", "1-27", false),
    ] {
        let found = any_rule(id).unwrap();
        assert!(found.text().contains(words), "{id}: {}", found.text());
        assert!(found.publication().contains("Guide 1"), "{id}");
        assert!(found.publication().contains(page), "{id}: {}", found.publication());
        // What is only needed once the jars are on the shelf does not come along before.
        assert_eq!(rule(id), early.then_some(found), "{id}");
    }
    assert_eq!(any_rule("no such rule"), None);
    assert_eq!(rule("no such rule"), None);
}
