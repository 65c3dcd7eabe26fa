//! The sheet layout of a design: its boards as a job for the stock entered.
use super::document::Sheet;
use super::evaluate::{Layer, LayerUse, RingReport, tape_step};
use super::limits::FieldId;
use super::report::BoxReport;
use super::testbox::{Extra, ExtraPart};
use super::wood::own_sheet;
use crate::model::cutting::{Job, PanelKind, Regime, Solution, Solver, Stock};
use crate::model::error::ModelError;
use crate::model::geometry::{Board, Part, PartName, Saw, Stock as Material};
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
    /// Number of the board it is cut from.
    pub board: u8,
    /// Thickness of that board.
    pub thickness: ExactLength,
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

/// The jobs of a box and the stock entered, one for each board that parts are cut from, the first board first. Offcuts
/// cost nothing; sheets cost what they cost, or, while a price is missing, their area. `extras` are cut beside the box,
/// from the first board.
#[must_use]
pub fn jobs(sheet: &Sheet, report: &BoxReport, extras: &[ExtraPart]) -> Vec<NamedJob> {
    let spec = &report.spec;
    let mut boards: Vec<Board> = Vec::new();
    for part in report.plan.parts.iter().filter(|part| part.stock == Material::Board) {
        let board = part.pieces.first().map_or(spec.boards.shell, |&id| spec.boards.of(id));
        if !boards.iter().any(|known| known.number == board.number) {
            boards.push(board);
        }
    }
    if boards.is_empty()
        || !extras.is_empty() && !boards.iter().any(|board| board.number == spec.boards.shell.number)
    {
        boards.push(spec.boards.shell);
    }
    boards.sort_unstable_by_key(|board| board.number);
    boards.iter().map(|board| job(sheet, report, extras, board)).collect()
}

fn job(sheet: &Sheet, report: &BoxReport, extras: &[ExtraPart], board: &Board) -> NamedJob {
    let plan = &report.plan;
    let of_it = |part: &&Part| part.board == board.number;
    let may_turn = sheet.choice_key(FieldId::Grain) == "none";
    let mut panels = Vec::new();
    let mut names = Vec::new();
    let mut add = |name, width, length, count| {
        panels.push(PanelKind { width, length, count, may_turn });
        names.push(name);
    };
    let flat = |name: PartName| name != PartName::CornerStrip;
    let parts = plan.parts.iter().filter(of_it);
    for part in parts.filter(|part| part.stock == Material::Board && flat(part.name)) {
        add(PanelName::Part(part.name), part.width.planned, part.length.planned, part.count());
    }
    // A blank may be larger than it needs to be: up to the next step of the tape.
    let up = |size: ExactLength| size.rounded_up_to(report.spec.tape_step);
    let of_strips = board.number == report.spec.boards.strips.number;
    for blank in plan.strip_blanks.iter().filter(|_| of_strips) {
        let width = up(blank.width);
        add(PanelName::Part(PartName::CornerStrip), width, blank.length, 1);
    }
    for extra in extras.iter().filter(|_| board.number == report.spec.boards.shell.number) {
        add(PanelName::Extra(extra.name), up(extra.width), up(extra.length), extra.count);
    }
    named(sheet, report.spec.kerf, *board, panels, names)
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
    named(
        sheet,
        sheet.length(FieldId::Kerf).unwrap_or_default(),
        Board::mdf(found.spec.thickness),
        panels,
        names,
    )
}

fn named(
    sheet: &Sheet,
    kerf: ExactLength,
    board: Board,
    panels: Vec<PanelKind>,
    names: Vec<PanelName>,
) -> NamedJob {
    let (stock, uses, priced) = stock(sheet, board.number);
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
        board: board.number,
        thickness: board.thickness,
    }
}

fn regime(sheet: &Sheet) -> Regime {
    match sheet.choice_key(FieldId::CutTurns) {
        "three" => Regime::Staged { stages: 3, across_first: true },
        "two" => Regime::Staged { stages: 2, across_first: true },
        _ => Regime::Any,
    }
}

/// Width, length and price of the sheets one may buy of a board.
fn on_offer(board: u8) -> Vec<(FieldId, FieldId, FieldId, StockUse)> {
    match own_sheet(board) {
        Some([width, length, price]) => vec![(width, length, price, StockUse::Sheet)],
        None => vec![
            (FieldId::SheetWidth, FieldId::SheetLength, FieldId::SheetPrice, StockUse::Sheet),
            (FieldId::OtherWidth, FieldId::OtherLength, FieldId::OtherPrice, StockUse::OtherSheet),
        ],
    }
}

/// The prices that a job's cost waits for; none where only offcuts are cut.
#[must_use]
pub fn unpriced(sheet: &Sheet, job: &NamedJob, solution: &Solution) -> Vec<FieldId> {
    let buys = |kind: usize| job.stock.get(kind).is_some_and(|use_| *use_ != StockUse::Offcut);
    if !solution.sheets.iter().any(|layout| buys(layout.stock)) {
        return Vec::new();
    }
    let known = |id| sheet.length(id).is_some();
    let offered =
        on_offer(job.board).into_iter().filter(|(width, length, ..)| known(*width) && known(*length));
    offered.map(|(_, _, price, _)| price).filter(|price| sheet.given(*price).is_none()).collect()
}

/// Offcuts first, then what one buys; of a board beside the first only the sheets it comes in.
fn stock(sheet: &Sheet, board: u8) -> (Vec<Stock>, Vec<StockUse>, bool) {
    let own = own_sheet(board);
    let size = |width, length| Some((sheet.length(width)?, sheet.length(length)?));
    let price = |id| sheet.si(id).map(|price: f64| (price.clamp(0.0, 1e9) * 100.0).round() as u64);
    let mut pieces = Vec::new();
    for (width, length) in [
        (FieldId::OffcutWidth, FieldId::OffcutLength),
        (FieldId::SecondOffcutWidth, FieldId::SecondOffcutLength),
    ] {
        if let Some((width, length)) = size(width, length).filter(|_| own.is_none()) {
            pieces.push((Stock { width, length, count: Some(1), cost: 0 }, StockUse::Offcut));
        }
    }
    let bought = on_offer(board).into_iter().filter_map(|(width, length, id, use_)| {
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
