//! Sheet layouts as drawings and steps, and the bill of materials. Strings and coordinates, ready to show.
use std::borrow::Cow;

use super::format::{fixed, length};
use super::names;
use crate::design::bench::bolt_count;
use crate::design::cutting::{NamedJob, PanelName, StockUse, unpriced};
use crate::design::document::Sheet;
use crate::design::evaluate::{LayerUse, mouth_radius};
use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::model::cutting::{Cut, CutWay, Quality, SheetLayout, Solution};
use crate::model::geometry::spec::Loose;
use crate::model::geometry::{
    Boards, CutCare, FenceSetting, HoleShape, HoleUse, MeasuredFace, Outline, PartId, PartName, Saw, battens,
    outlines,
};
use crate::units::{ExactLength, Quantity, UnitPrefs};
use crate::words::{cutting as words, faces};

/// A rectangle on the drawing: left, top, width, height.
pub type Box4 = [f64; 4];

/// A numbered cut on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct CutLine {
    /// From, to.
    pub ends: [[f64; 2]; 2],
    /// Its number, and where that stands.
    pub number: (String, [f64; 2]),
}

/// A cut as a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutStep {
    /// Key of its tick.
    pub tick: String,
    /// Its number and what to do.
    pub text: String,
    /// What comes free.
    pub gives: String,
}

/// One sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetView {
    /// Which sheet, its size.
    pub title: String,
    /// Width and height of the drawing.
    pub size: [f64; 2],
    /// Pieces: place, name, size.
    pub panels: Vec<(Box4, Cow<'static, str>, String)>,
    /// What is left over.
    pub offcuts: Vec<Box4>,
    /// The same in words.
    pub left_over: String,
    /// Cuts.
    pub lines: Vec<CutLine>,
    /// The steps.
    pub steps: Vec<CutStep>,
}

/// Width of a drawing in its own units.
const WIDTH: f64 = 342.0;
/// Offcuts with a shorter side than this are waste (common practice, no source).
const KEEP: ExactLength = ExactLength::from_hundredths_mm(10_000);

/// What a panel of a job is called.
#[must_use]
pub fn panel_name(name: PanelName) -> Cow<'static, str> {
    match name {
        PanelName::Part(PartName::CornerStrip) => words::STRIP_BLANK.into(),
        PanelName::Part(name) => names::part(name).into(),
        PanelName::Extra(extra) => super::testbox::extra_name(extra).into(),
        PanelName::Layer(LayerUse::Rings { first, last }) => {
            crate::words::rings::on_sheet(first, last).into()
        }
        PanelName::Layer(use_) => super::rings::layer_name(use_).into(),
    }
}

/// The sheets of a solution.
#[must_use]
pub fn sheets(job: &NamedJob, solution: &Solution, prefs: &UnitPrefs) -> Vec<SheetView> {
    solution.sheets.iter().enumerate().map(|(number, sheet)| view(job, number, sheet, prefs)).collect()
}

fn view(job: &NamedJob, number: usize, sheet: &SheetLayout, prefs: &UnitPrefs) -> SheetView {
    let scale = WIDTH / sheet.sheet[0].millimetres().max(1.0);
    let at = |length: ExactLength| length.millimetres() * scale;
    let name = |panel: usize| job.names.get(panel).map_or(Cow::Borrowed(""), |name| panel_name(*name));
    let by =
        |size: [ExactLength; 2]| format!("{} × {}", prefs.length_text(size[0]), prefs.length_text(size[1]));
    let kind = match job.stock.get(sheet.stock) {
        Some(StockUse::Offcut) => words::OFFCUT,
        Some(StockUse::OtherSheet) => words::OTHER_SHEET,
        _ => words::SHEET,
    };
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let panels = sheet.placed.iter().map(|panel| {
        let place = [at(panel.at[0]), at(panel.at[1]), at(panel.size[0]), at(panel.size[1])];
        (place, name(panel.panel), by(panel.size))
    });
    let kept: Vec<_> = sheet.offcuts.iter().filter(|rest| rest.size[0].min(rest.size[1]) >= KEEP).collect();
    let sizes: Vec<String> = kept.iter().map(|rest| by(rest.size)).collect();
    // Sheets of the first board keep the key they have always had.
    let board = if job.board == 0 { String::new() } else { format!("board {} ", job.board) };
    let steps = sheet.cuts.iter().enumerate().map(|(index, cut)| CutStep {
        tick: format!(
            "{board}sheet {number} {index} {} {}",
            cut.position.eighth_micrometres(),
            cut.fence.eighth_micrometres()
        ),
        text: step(index, cut, prefs),
        gives: gives(cut, &name),
    });
    SheetView {
        title: format!("{} {}: {} {unit}", kind, number + 1, by(sheet.sheet)),
        size: [WIDTH, at(sheet.sheet[1])],
        panels: panels.collect(),
        offcuts: kept
            .iter()
            .map(|rest| [at(rest.at[0]), at(rest.at[1]), at(rest.size[0]), at(rest.size[1])])
            .collect(),
        left_over: if sizes.is_empty() { String::new() } else { words::left_over(&sizes.join(", ")) },
        lines: sheet.cuts.iter().enumerate().map(|(index, cut)| line(index, cut, &at)).collect(),
        steps: steps.collect(),
    }
}

fn step(index: usize, cut: &Cut, prefs: &UnitPrefs) -> String {
    let way = match cut.way {
        CutWay::Across => words::ACROSS,
        CutWay::Along => words::ALONG,
    };
    format!("{}. {}", index + 1, words::cut(way, &prefs.length_text(cut.fence)))
}

fn gives(cut: &Cut, name: &impl Fn(usize) -> Cow<'static, str>) -> String {
    let mut freed: Vec<Cow<'_, str>> = cut.frees.iter().map(|panel| name(*panel)).collect();
    if freed.is_empty() {
        return if cut.trims { taken_off(cut).into() } else { String::new() };
    }
    freed.dedup();
    words::gives(&freed.join(", "))
}

/// What a cut takes off that no piece needs: something to keep, or a strip of waste.
fn taken_off(cut: &Cut) -> &'static str {
    let axis = usize::from(cut.way == CutWay::Across);
    let off = cut.piece.size[axis] - cut.fence;
    if off.min(cut.piece.size[1 - axis]) >= KEEP { words::OFFCUT_OFF } else { words::TRIM_CUT }
}

fn line(index: usize, cut: &Cut, at: &impl Fn(ExactLength) -> f64) -> CutLine {
    let axis = usize::from(cut.way == CutWay::Across);
    let mut ends = [[0.0; 2]; 2];
    for (end, far) in ends.iter_mut().zip([false, true]) {
        end[axis] = at(cut.position);
        let from = cut.piece.at[1 - axis];
        end[1 - axis] = at(if far { from + cut.piece.size[1 - axis] } else { from });
    }
    // Numbers of cuts side by side stand apart along their lines.
    let share = [0.5, 0.35, 0.65][index % 3];
    let mut place = ends[0];
    place[1 - axis] += (ends[1][1 - axis] - ends[0][1 - axis]) * share;
    CutLine { ends, number: ((index + 1).to_string(), place) }
}

/// What is known about the layout, in a sentence.
#[must_use]
pub fn quality(solution: &Solution) -> String {
    match solution.quality {
        Quality::Proved => words::PROVED.into(),
        Quality::Found { least_sheets } => words::found(least_sheets),
    }
}

/// Which board, and how thick it is.
#[must_use]
pub fn board_name(number: u8, thickness: ExactLength, prefs: &UnitPrefs) -> String {
    crate::words::wood::of(number, &super::format::length(thickness, prefs).to_string())
}

/// What a setting of the fence asks for; `mixed` where not all parts are of one board.
#[must_use]
pub fn cares(
    setting: &FenceSetting,
    saw: Saw,
    boards: &Boards,
    mixed: bool,
    prefs: &UnitPrefs,
) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let thickness = boards.numbered(setting.board).thickness;
    if mixed {
        all.push(crate::words::wood::setting(&board_name(setting.board, thickness, prefs)));
    }
    let table = setting.at_table(thickness);
    if setting.measured_on == MeasuredFace::LongPoints && table != setting.size {
        all.push(crate::words::shape::setting(&super::shape::tenth(table, prefs)));
    } else if table != setting.size {
        all.push(words::strip_setting(&prefs.length_text(table)));
    }
    all.extend(setting.cares(saw).into_iter().map(|care| {
        match care {
            CutCare::BeyondReach => words::REACH,
            CutCare::ShortRide => words::SHORT_RIDE,
            CutCare::Narrow => words::NARROW,
            CutCare::Steep => words::STEEP,
        }
        .to_owned()
    }));
    all
}

/// A hole to rout: where, for what, its size, the template's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DetailRow {
    /// Key of its tick.
    pub tick: String,
    /// Board and purpose.
    pub name: String,
    /// Size and depth.
    pub size: String,
    /// Size of the hole in the template.
    pub template: String,
}

/// Every hole, rebate and window, in the order of the boards.
#[must_use]
pub fn details(report: &BoxReport, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<DetailRow> {
    let bush = sheet.length(FieldId::GuideBush);
    let bit = sheet.length(FieldId::RouterBit).unwrap_or_default();
    let more = bush.map_or(ExactLength::ZERO, |bush| (bush - bit).max(ExactLength::ZERO));
    let mut rows = Vec::new();
    let (divided, mut mouths) = (report.spec.divider().is_some(), 0);
    let found = outlines(report.plan.current());
    let pieces: Vec<PartId> = found.iter().map(|outline| outline.part).collect();
    for outline in &found {
        let key = crate::design::built::piece_key(outline.part);
        let piece = names::one(outline.part, &pieces);
        rows.extend(open_window(report, outline, (&key, &piece), more, prefs));
        if report.spec.profile.is_some() {
            rows.extend(super::shape::edge_row(outline, (&key, &piece), prefs));
        }
        for (number, hole) in outline.holes.iter().enumerate() {
            let depth = hole
                .depth
                .map_or_else(|| words::THROUGH.into(), |depth| words::deep(&prefs.length_text(depth)));
            let mut size = shape(hole.shape, ExactLength::ZERO, prefs);
            let round = matches!(hole.shape, HoleShape::Round(_));
            if hole.use_ == HoleUse::Port && outline.part == PartId::Front(0) && round {
                // The tubes of the room before the drivers come first.
                let before = mouths < report.plan.current().assembly.layout.others.len() && divided;
                mouths += 1;
                size.push_str(&round_over(report, sheet, before, prefs));
            }
            rows.push(DetailRow {
                tick: format!("hole {key} {number} {}", size_key(hole.shape)),
                name: format!("{piece}: {}", super::templates::hole_name(hole.use_)),
                size: format!("{size}, {depth}"),
                template: shape(hole.shape, more, prefs),
            });
        }
    }
    rows
}

/// What follows a tube's hole in the front whose outer end is entered as flared: the radius of the router's bit, which
/// the front must be thick enough for.
fn round_over(report: &BoxReport, sheet: &Sheet, before: bool, prefs: &UnitPrefs) -> String {
    match mouth_radius(sheet, before) {
        None => String::new(),
        Some(radius) if radius <= report.spec.front_thickness() => {
            words::rounded_mouth(&prefs.length_text(radius))
        }
        Some(radius) => {
            let front = prefs.length_text(report.spec.front_thickness());
            words::mouth_too_round(&prefs.length_text(radius), &front)
        }
    }
}

/// The window of a leg that is open to the floor: part of the side's edge, not a hole in it.
fn open_window(
    report: &BoxReport,
    outline: &Outline,
    (key, piece): (&str, &str),
    more: ExactLength,
    prefs: &UnitPrefs,
) -> Option<DetailRow> {
    let legs = report.spec.legs.filter(|_| !outline.edge.is_empty())?;
    let name = super::templates::hole_name(HoleUse::Window);
    let high = legs.height - legs.rail;
    let size = |more: ExactLength| {
        // Open below: only its upper end grows.
        format!("{} × {}", prefs.length_text(legs.window + more), prefs.length_text(high + more.halved()))
    };
    Some(DetailRow {
        tick: format!("hole {key} leg {} {}", legs.window.eighth_micrometres(), high.eighth_micrometres()),
        name: format!("{piece}: {name}"),
        size: words::open_window(&size(ExactLength::ZERO), &prefs.length_text(legs.corner_radius)),
        template: size(more),
    })
}

fn size_key(shape: HoleShape) -> String {
    match shape {
        HoleShape::Round(diameter) => diameter.eighth_micrometres().to_string(),
        HoleShape::Rectangle(window) => {
            format!("{} {}", window.across.eighth_micrometres(), window.up.eighth_micrometres())
        }
    }
}

/// A hole's size, made larger all round.
fn shape(shape: HoleShape, more: ExactLength, prefs: &UnitPrefs) -> String {
    let text = |length: ExactLength| prefs.length_text(length + more);
    match shape {
        HoleShape::Round(diameter) => format!("⌀ {}", text(diameter)),
        HoleShape::Rectangle(window) => format!("{} × {}", text(window.across), text(window.up)),
    }
}

/// Share of a joint that takes glue: 175 g/m² (`handbook.csv`, row `glue-spread`, from memory there).
const GLUE_G_PER_M2: f64 = 175.0;
/// Distance of screws along a joint (`handbook.csv`, row `screw-spacing`).
const SCREW_EVERY_M: f64 = 0.15;

/// A line of what has to be bought: name, amount, unit.
pub type BillRow = (String, String, &'static str);

/// The sheets of a layout, and what they cost.
#[must_use]
pub fn boards(job: &NamedJob, solution: &Solution, prefs: &UnitPrefs) -> Vec<BillRow> {
    let mut rows = Vec::new();
    for (kind, stock) in job.job.stock.iter().enumerate() {
        let count = solution.sheets.iter().filter(|sheet| sheet.stock == kind).count();
        if count > 0 {
            let [across, along] = [stock.width, stock.length].map(|l| prefs.length_text(l));
            let thick = length(job.thickness, prefs);
            rows.push((format!("{across} × {along} × {thick}"), count.to_string(), "×"));
        }
    }
    if job.priced {
        rows.push((words::COST.into(), fixed(solution.cost as f64 / 100.0, 2), ""));
    }
    rows
}

/// What has to be bought where parts are cut from several boards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bill {
    /// The sheets board by board, and what all of them cost if every price is known.
    pub rows: Vec<BillRow>,
    /// The prices that are missing for that.
    pub missing: Vec<FieldId>,
}

/// The sheets of all boards, and what they cost together. `solved` are the jobs with their layouts.
#[must_use]
pub fn bill(solved: &[(&NamedJob, &Solution)], sheet: &Sheet, prefs: &UnitPrefs) -> Bill {
    let (mut rows, mut missing, mut cents) = (Vec::new(), Vec::new(), 0_u64);
    for (job, solution) in solved {
        let lacking = unpriced(sheet, job, solution);
        let mut own = boards(job, solution, prefs);
        if job.priced
            && let Some(cost) = own.last_mut()
        {
            cost.0 = words::sheets_of(crate::words::wood::which(job.board));
        }
        rows.extend(own);
        if lacking.is_empty() {
            cents = cents.saturating_add(solution.cost);
        }
        missing.extend(lacking);
    }
    if missing.is_empty() {
        rows.push((words::ALL_SHEETS.into(), fixed(cents as f64 / 100.0, 2), ""));
    }
    Bill { rows, missing }
}

/// What else a box of boards needs.
#[must_use]
pub fn supplies(report: &BoxReport, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<BillRow> {
    let spec = &report.spec;
    let inside = report.plan.current().assembly.inside;
    let mut seams = 4.0 * inside.millimetres().iter().sum::<f64>() / 1e3;
    // Around a board that comes off nothing is glued.
    seams -= spec.loose.map_or(0.0, |loose| report.plan.current().assembly.seat(loose).iter().sum());
    let layers = f64::from(spec.front_layers.saturating_sub(1));
    let laminated = report.outside.width.metres() * report.outside.height.metres() * layers;
    let mut rows = vec![
        glue(seams * spec.boards.shell.thickness.metres() + laminated),
        (words::SCREWS.into(), fixed((seams / SCREW_EVERY_M).ceil(), 0), "×"),
        (words::SEAM.into(), fixed(seams, 1), "m"),
    ];
    if let Some(driver) = &spec.driver {
        rows.extend(driver_supplies([driver.flange, driver.cutout], driver.count, sheet));
    }
    if spec.terminal.is_some() {
        rows.push((words::TERMINALS.into(), "1".into(), "×"));
    }
    if let Some(loose) = spec.loose {
        rows.extend(loose_supplies(report, loose, prefs));
    }
    rows
}

/// Gasket, screws and battens of a board that comes off.
#[inline(never)] // few boxes have one: it may come after the first result
fn loose_supplies(report: &BoxReport, loose: Loose, prefs: &UnitPrefs) -> Vec<BillRow> {
    let assembly = &report.plan.current().assembly;
    let sides = assembly.seat(loose);
    let screws: f64 = sides.iter().map(|side| (side / SCREW_EVERY_M).ceil()).sum();
    let mut rows = vec![
        (faces::LOOSE_GASKET.into(), fixed(sides.iter().sum::<f64>(), 1), "m"),
        (faces::LOOSE_SCREWS.into(), fixed(screws, 0), "×"),
    ];
    let length: f64 = battens(assembly).iter().map(|it| it.length.metres() * it.count as f64).sum();
    if length > 0.0 {
        rows.push((faces::battens(&prefs.length_text(loose.batten)), fixed(length, 1), "m"));
    }
    rows
}

/// Glue for so many square metres of joint.
pub(super) fn glue(square_metres: f64) -> BillRow {
    (words::GLUE.into(), fixed((square_metres * GLUE_G_PER_M2 / 10.0).ceil() * 10.0, 0), "g")
}

/// Gasket and inserts of drivers with this flange and cut-out.
pub(super) fn driver_supplies([flange, cutout]: [ExactLength; 2], count: u8, sheet: &Sheet) -> [BillRow; 2] {
    let middle = (flange.metres() + cutout.metres()) / 2.0;
    let length = std::f64::consts::PI * middle * f64::from(count);
    let bolts = u32::from(bolt_count(sheet)) * u32::from(count);
    [(words::GASKET.into(), fixed(length, 1), "m"), (words::INSERTS.into(), bolts.to_string(), "×")]
}
