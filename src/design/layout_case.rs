//! Sheet layouts of jobs in the schema of the cutting reference, as JSON.
//!
//! Three kinds of files: jobs with `panels` on one sheet size, with every regime of cuts; instances with equal `bin`s,
//! fixed and rotated; instances with a `strip_width`, least height. Millimetres; results as `[x, y, width, height]`.
use serde_json::{Map, Value, json};
use thiserror::Error;

use crate::model::cutting::{
    Job, PanelKind, Quality, Regime, SheetLayout, Solution, Stock, USUAL_EFFORT, solve,
};
use crate::model::error::ModelError;
use crate::units::ExactLength;

/// Why a text gives no layouts.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum LayoutError {
    /// It is no such file.
    #[error("The file holds no jobs in the schema of the cutting reference")]
    NotAJob,
}

/// The regimes a job of the reference names.
const REGIMES: &[(&str, Regime)] = &[
    ("guillotine_any", Regime::Any),
    ("stage2_crosscut_first", Regime::Staged { stages: 2, across_first: true }),
    ("stage2_rip_first", Regime::Staged { stages: 2, across_first: false }),
    ("stage3_crosscut_first", Regime::Staged { stages: 3, across_first: true }),
    ("stage3_rip_first", Regime::Staged { stages: 3, across_first: false }),
];

/// Lays out every job of a file.
///
/// # Errors
/// [`LayoutError`] for a text that is no such file; a job that can't be laid out says why in its place.
pub fn layouts(text: &str) -> Result<Value, LayoutError> {
    let file: Value = serde_json::from_str(text).map_err(|_| LayoutError::NotAJob)?;
    let lists = [("jobs", panels_job as Reader), ("instances", instance)];
    let mut answers = Vec::new();
    for (name, reader) in lists {
        for entry in file.get(name).and_then(Value::as_array).into_iter().flatten() {
            answers.push(reader(&file, entry).ok_or(LayoutError::NotAJob)?);
        }
    }
    if answers.is_empty() {
        answers
            .push(panels_job(&file, &file).or_else(|| instance(&file, &file)).ok_or(LayoutError::NotAJob)?);
    }
    Ok(Value::Array(answers))
}

type Reader = fn(&Value, &Value) -> Option<Value>;

fn length(value: &Value) -> Option<ExactLength> {
    value.as_f64().map(ExactLength::from_millimetres)
}

fn pair(value: &Value) -> Option<[ExactLength; 2]> {
    Some([length(value.get(0)?)?, length(value.get(1)?)?])
}

/// A job with named panels.
fn panels_job(file: &Value, entry: &Value) -> Option<Value> {
    let own = |key: &str| entry.get(key).or_else(|| file.get(key));
    let may_turn = own("rotation").and_then(Value::as_bool).unwrap_or(true);
    let panels = entry.get("panels")?.as_array()?.iter().map(|panel| {
        Some(PanelKind {
            width: length(panel.get("w")?)?,
            length: length(panel.get("h")?)?,
            count: usize::try_from(panel.get("qty").map_or(Some(1), Value::as_u64)?).ok()?,
            may_turn: panel.get("rotation").and_then(Value::as_bool).unwrap_or(may_turn),
        })
    });
    let stock = match own("stock") {
        Some(stock) => stock.as_array()?.iter().map(stock_of).collect::<Option<Vec<_>>>()?,
        None => vec![stock_of(own("sheet")?)?],
    };
    let job = Job {
        panels: panels.collect::<Option<Vec<_>>>()?,
        stock,
        kerf: own("kerf").map_or(Some(ExactLength::ZERO), length)?,
        trim: own("edge_trim").map_or(Some(ExactLength::ZERO), length)?,
        regime: Regime::Any,
    };
    let mut answer = Map::new();
    answer.insert("id".into(), entry.get("id").cloned().unwrap_or(Value::Null));
    for (name, regime) in REGIMES {
        answer.insert((*name).into(), outcome(&Job { regime: *regime, ..job.clone() }));
    }
    Some(Value::Object(answer))
}

fn stock_of(value: &Value) -> Option<Stock> {
    Some(Stock {
        width: length(value.get("width")?)?,
        length: length(value.get("length")?)?,
        count: match value.get("count") {
            Some(count) => Some(usize::try_from(count.as_u64()?).ok()?),
            None => None,
        },
        cost: value.get("price").and_then(Value::as_f64).map_or(1, |price| (price * 100.0).round() as u64),
    })
}

/// An instance of equal bins or of a strip.
fn instance(_: &Value, entry: &Value) -> Option<Value> {
    let items: Vec<[ExactLength; 2]> =
        entry.get("items")?.as_array()?.iter().map(pair).collect::<Option<_>>()?;
    let mut answer = Map::new();
    answer.insert("id".into(), entry.get("id").cloned().unwrap_or(Value::Null));
    for (name, may_turn) in [("fixed", false), ("rotated", true)] {
        let panels = items.iter().map(|[width, length]| PanelKind {
            width: *width,
            length: *length,
            count: 1,
            may_turn,
        });
        let mut job = Job {
            panels: panels.collect(),
            stock: Vec::new(),
            kerf: ExactLength::ZERO,
            trim: ExactLength::ZERO,
            regime: Regime::Any,
        };
        let value = match (entry.get("bin"), entry.get("strip_width")) {
            (Some(bin), _) => {
                let [width, length] = pair(bin)?;
                job.stock.push(Stock { width, length, count: None, cost: 1 });
                outcome(&job)
            }
            (None, width) => {
                // All panels end to end are the longest strip there can be.
                let whole = items.iter().map(|[w, h]| (*w).max(*h)).sum();
                job.stock.push(Stock { width: length(width?)?, length: whole, count: None, cost: 1 });
                outcome(&job)
            }
        };
        answer.insert(name.into(), value);
    }
    Some(Value::Object(answer))
}

fn outcome(job: &Job) -> Value {
    match solve(job, USUAL_EFFORT) {
        Ok(solution) => solved(&solution),
        Err(ModelError::Impossible { what }) => json!({ "refused": what }),
        Err(error) => json!({ "refused": error.to_string() }),
    }
}

fn solved(solution: &Solution) -> Value {
    let used = solution.sheets.last().map_or(0.0, |sheet| sheet.used[1].millimetres());
    let (proved, least) = match solution.quality {
        Quality::Proved => (true, solution.sheets.len()),
        Quality::Found { least_sheets } => (false, least_sheets),
    };
    json!({
        "sheets": solution.sheets.len(),
        "used_mm": used,
        "proved": proved,
        "least_sheets": least,
        "cost": solution.cost as f64 / 100.0,
        "layout": solution.sheets.iter().map(placed).collect::<Vec<_>>(),
        "cuts": solution.sheets.iter().map(cuts).collect::<Vec<_>>(),
        "stages": solution.sheets.iter().map(|sheet| sheet.root.stages()).collect::<Vec<_>>(),
        "stock": solution.sheets.iter().map(|sheet| sheet.stock).collect::<Vec<_>>(),
    })
}

fn placed(sheet: &SheetLayout) -> Value {
    let four = |at: [ExactLength; 2], size: [ExactLength; 2]| {
        [at[0], at[1], size[0], size[1]].map(ExactLength::millimetres)
    };
    sheet.placed.iter().map(|panel| json!(four(panel.at, panel.size))).collect()
}

fn cuts(sheet: &SheetLayout) -> Value {
    let cut = |cut: &crate::model::cutting::Cut| {
        let piece = [cut.piece.at[0], cut.piece.at[1], cut.piece.size[0], cut.piece.size[1]];
        let piece = piece.map(ExactLength::millimetres);
        json!({
            "way": match cut.way {
                crate::model::cutting::CutWay::Across => "across",
                crate::model::cutting::CutWay::Along => "along",
            },
            "piece": piece,
            "at": cut.position.millimetres(),
            "fence": cut.fence.millimetres(),
            "stage": cut.stage,
            "frees": cut.frees,
            "trims": cut.trims,
        })
    };
    sheet.cuts.iter().map(cut).collect()
}
