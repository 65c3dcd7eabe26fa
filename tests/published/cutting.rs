//! Sheet layouts against proved optima and published values: `data/cutting`, whose README names papers and files.
//!
//! `cargo test --test published cutting -- --nocapture` prints the tables.
use std::collections::BTreeMap;

use kerf_and_coil::model::cutting::{Job, PanelKind, Quality, Regime, Stock, solve};
use kerf_and_coil::units::ExactLength;
use serde_json::Value;

use crate::woodworking::mm;

fn read(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn panel(width: &Value, length: &Value, count: usize, may_turn: bool) -> PanelKind {
    PanelKind { width: mm(number(width)), length: mm(number(length)), count, may_turn }
}

/// The proved optimum of every job, for every regime of cuts: sheets, and used length of the last sheet.
#[test]
fn every_enclosure_job_reaches_the_proved_optimum() {
    let file = read(include_str!("data/cutting/enclosure_jobs.json"));
    let regimes = [
        ("guillotine_any", Regime::Any),
        ("stage2_crosscut_first", Regime::Staged { stages: 2, across_first: true }),
        ("stage2_rip_first", Regime::Staged { stages: 2, across_first: false }),
        ("stage3_crosscut_first", Regime::Staged { stages: 3, across_first: true }),
        ("stage3_rip_first", Regime::Staged { stages: 3, across_first: false }),
    ];
    let mut checked = 0;
    for entry in file["jobs"].as_array().unwrap() {
        let panels = entry["panels"]
            .as_array()
            .unwrap()
            .iter()
            .map(|p| panel(&p["w"], &p["h"], p["qty"].as_u64().unwrap() as usize, true));
        let panels: Vec<PanelKind> = panels.collect();
        let sheet = Stock { width: mm(1220.0), length: mm(2440.0), count: None, cost: 5000 };
        for (name, regime) in regimes {
            let job = Job {
                panels: panels.clone(),
                stock: vec![sheet],
                kerf: mm(3.2),
                trim: ExactLength::ZERO,
                regime,
            };
            let solution = solve(&job, 0).unwrap();
            let best = &entry["used_length_last_sheet_mm"][name];
            let used = solution.sheets.last().unwrap().used[1].millimetres();
            println!(
                "{:28} {name:22} {} sheets, {used:.1} mm, {:?}",
                entry["id"],
                solution.sheets.len(),
                solution.quality
            );
            assert_eq!(solution.quality, Quality::Proved);
            assert_eq!(
                solution.sheets.len() as u64,
                best["sheets"].as_u64().unwrap(),
                "{} {name}",
                entry["id"]
            );
            assert!((used - number(&best["used_mm"])).abs() < 1e-6, "{} {name}: {used}", entry["id"]);
            // Single panels may lie in one more direction than there are stages: the trimming.
            if let Regime::Staged { stages, .. } = regime {
                assert!(solution.sheets.iter().all(|sheet| sheet.root.stages() <= usize::from(stages)));
            }
            checked += 1;
        }
    }
    assert_eq!(checked, 30);
}

/// The published three-stage value on at least nine in ten, never more than one sheet over, and never below what a
/// layout of any kind can reach.
#[test]
fn bin_packing_reaches_the_published_three_stage_value_on_nine_in_ten() {
    let file = read(include_str!("data/cutting/bpp.json"));
    let (mut reached, mut all) = (0, 0);
    let mut totals: BTreeMap<(u64, u64, bool), [usize; 2]> = BTreeMap::new();
    for entry in file["instances"].as_array().unwrap() {
        for (name, may_turn) in [("fixed", false), ("rotated", true)] {
            let items = entry["items"].as_array().unwrap().iter();
            let job = Job {
                panels: items.map(|item| panel(&item[0], &item[1], 1, may_turn)).collect(),
                stock: vec![Stock {
                    width: mm(number(&entry["bin"][0])),
                    length: mm(number(&entry["bin"][1])),
                    count: None,
                    cost: 1,
                }],
                kerf: ExactLength::ZERO,
                trim: ExactLength::ZERO,
                regime: Regime::Any,
            };
            let solution = solve(&job, 1500).unwrap();
            let value =
                |kind: &str| entry["best"][format!("{name}_{kind}")]["bins"].as_u64().unwrap() as usize;
            let (best, free, found) = (value("guillotine3"), value("free"), solution.sheets.len());
            assert!(found <= best + 1, "{} {name}: {found}, published {best}", entry["id"]);
            assert!(found >= free, "{} {name}: {found}, less than any layout's {free}", entry["id"]);
            if let Quality::Found { least_sheets } = solution.quality {
                assert!(least_sheets <= free, "{} {name}: bound {least_sheets} above {free}", entry["id"]);
            }
            reached += usize::from(found <= best);
            all += 1;
            let key = (entry["cls"].as_u64().unwrap(), entry["n"].as_u64().unwrap(), may_turn);
            let sums = totals.entry(key).or_default();
            sums[0] += found;
            sums[1] += best;
        }
    }
    for ((class, panels, may_turn), [found, best]) in totals {
        let way = if may_turn { "rotated" } else { "fixed" };
        println!(
            "class {class:2}, {panels:3} panels, {way:7}: {found:3} sheets, published three-stage {best:3}"
        );
    }
    println!("{reached} of {all} reach the published three-stage value");
    assert_eq!(all, 60);
    assert!(reached * 10 >= all * 9, "{reached} of {all}");
}
