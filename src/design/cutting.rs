//! The sheet layout of a design: its boards as a job for the stock entered.
use super::document::Sheet;
use super::evaluate::{Layer, LayerUse, RingReport, tape_step};
use super::limits::FieldId;
use super::report::BoxReport;
use super::testbox::{Extra, ExtraPart};
use crate::model::cutting::{Job, PanelKind, Regime, Solution, Solver, Stock};
use crate::model::error::ModelError;
use crate::model::geometry::{PartName, Saw, Stock as Material};
use crate::units::ExactLength;

/// A job whose panels have names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedJob {
    /// The job.
    pub job: Job,
    /// What each panel is, in the job's order; corner strips stand for the blank they are ripped from.
    pub names: Vec<PanelName>,
    /// How each kind of stock came in.
    pub stock: Vec<StockUse>,
    /// Whether costs are prices; otherwise they are areas.
    pub priced: bool,
}

/// What a panel of a job becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PanelName {
    /// A part of the box.
    Part(PartName),
    /// A piece cut beside it; a disc is a square first.
    Extra(Extra),
    /// A layer of a stack of rings.
    Layer(LayerUse),
}

/// What a kind of stock is to the user.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StockUse {
    /// The sheet one buys.
    Sheet,
    /// The other sheet one may buy.
    OtherSheet,
    /// A piece left over from before.
    Offcut,
}

/// The job of a box and the stock entered. Offcuts cost nothing; sheets cost what they cost, or, while a price is
/// missing, their area. `extras` are cut beside the box.
#[must_use]
pub fn job(sheet: &Sheet, report: &BoxReport, extras: &[ExtraPart]) -> NamedJob {
    let plan = &report.plan;
    let may_turn = sheet.choice_key(FieldId::Grain) == "none";
    let mut panels = Vec::new();
    let mut names = Vec::new();
    let mut add = |name, width, length, count| {
        panels.push(PanelKind { width, length, count, may_turn });
        names.push(name);
    };
    let flat = |name: PartName| name != PartName::CornerStrip;
    for part in plan.parts.iter().filter(|part| part.stock == Material::Board && flat(part.name)) {
        add(PanelName::Part(part.name), part.width.planned, part.length.planned, part.count());
    }
    // A blank may be larger than it needs to be: up to the next step of the tape.
    let up = |size: ExactLength| size.rounded_up_to(report.spec.tape_step);
    for blank in &plan.strip_blanks {
        let width = up(blank.width);
        add(PanelName::Part(PartName::CornerStrip), width, blank.length, 1);
    }
    for extra in extras {
        add(PanelName::Extra(extra.name), up(extra.width), up(extra.length), extra.count);
    }
    named(sheet, report.spec.kerf, panels, names)
}

/// The job of a stack of rings: the rectangles its layers are routed from.
#[must_use]
pub fn ring_job(sheet: &Sheet, found: &RingReport) -> NamedJob {
    let may_turn = sheet.choice_key(FieldId::Grain) == "none";
    let layers = found.layers();
    let panel = |layer: &Layer<'_>| {
        let [width, length] = layer.blank(tape_step(sheet));
        PanelKind { width, length, count: layer.count, may_turn }
    };
    let panels = layers.iter().map(panel).collect();
    let names = layers.iter().map(|layer| PanelName::Layer(layer.use_)).collect();
    named(sheet, sheet.length(FieldId::Kerf).unwrap_or_default(), panels, names)
}

fn named(sheet: &Sheet, kerf: ExactLength, panels: Vec<PanelKind>, names: Vec<PanelName>) -> NamedJob {
    let (stock, uses, priced) = stock(sheet);
    NamedJob {
        job: Job {
            panels,
            stock,
            kerf,
            trim: sheet.length(FieldId::EdgeTrim).unwrap_or_default(),
            regime: regime(sheet),
        },
        names,
        stock: uses,
        priced,
    }
}

fn regime(sheet: &Sheet) -> Regime {
    match sheet.choice_key(FieldId::CutTurns) {
        "three" => Regime::Staged { stages: 3, across_first: true },
        "two" => Regime::Staged { stages: 2, across_first: true },
        _ => Regime::Any,
    }
}

/// Offcuts first, then what one buys.
fn stock(sheet: &Sheet) -> (Vec<Stock>, Vec<StockUse>, bool) {
    let size = |width, length| Some((sheet.length(width)?, sheet.length(length)?));
    let price = |id| sheet.si(id).map(|price: f64| (price.clamp(0.0, 1e9) * 100.0).round() as u64);
    let mut pieces = Vec::new();
    for (width, length) in [
        (FieldId::OffcutWidth, FieldId::OffcutLength),
        (FieldId::SecondOffcutWidth, FieldId::SecondOffcutLength),
    ] {
        if let Some((width, length)) = size(width, length) {
            pieces.push((Stock { width, length, count: Some(1), cost: 0 }, StockUse::Offcut));
        }
    }
    let bought = [
        (FieldId::SheetWidth, FieldId::SheetLength, FieldId::SheetPrice, StockUse::Sheet),
        (FieldId::OtherWidth, FieldId::OtherLength, FieldId::OtherPrice, StockUse::OtherSheet),
    ];
    let bought = bought.into_iter().filter_map(|(width, length, id, use_)| {
        let (width, length) = size(width, length)?;
        Some((width, length, price(id), use_))
    });
    let bought: Vec<_> = bought.collect();
    let priced = bought.iter().all(|(_, _, price, _)| price.is_some());
    for (width, length, price, use_) in bought {
        let area = (width.millimetres() * length.millimetres()).round() as u64;
        let cost = if priced { price.unwrap_or(0) } else { area };
        pieces.push((Stock { width, length, count: None, cost }, use_));
    }
    let (stock, uses) = pieces.into_iter().unzip();
    (stock, uses, priced)
}

/// Rounds of the search on the page.
const EFFORT: u32 = 600;

/// Begins the layout.
///
/// # Errors
/// As [`Solver::new`].
pub fn begin(job: &NamedJob) -> Result<Solver, ModelError> {
    Solver::new(&job.job, EFFORT)
}

/// Lays out at once.
///
/// # Errors
/// As [`crate::model::cutting::solve`].
pub fn solve(job: &NamedJob) -> Result<Solution, ModelError> {
    crate::model::cutting::solve(&job.job, EFFORT)
}

/// The saw entered.
#[must_use]
pub fn saw(sheet: &Sheet) -> Saw {
    let length = |id| sheet.length(id).unwrap_or(ExactLength::ZERO);
    Saw { reach: length(FieldId::SawReach), least_ride: length(FieldId::LeastRide) }
}
