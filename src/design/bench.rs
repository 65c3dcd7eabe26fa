//! What is checked at the bench: weight, diagonals, bolts, panels under pressure, fill.
use super::document::Sheet;
use super::limits::FieldId;
use super::report::{BoxReport, Report};
use super::wood::modulus;
use crate::model::geometry::halves::halves;
use crate::model::geometry::panels::fields;
use crate::model::geometry::stiffness::{Plate, peak_pressure};
use crate::model::geometry::{Assembly, Axis, Board, Weight, weight};
use crate::units::{ExactLength, Frequency, Length, Mass, Pressure, Volume};

/// The largest panel under the pressure in the box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelCheck {
    /// The axis the panel faces along.
    pub faces: Axis,
    /// Most pressure at the drive set.
    pub pressure: Pressure,
    /// Force on the panel.
    pub force_newtons: f64,
    /// Sag in its middle.
    pub sag: Length,
    /// Its first resonance.
    pub mode: Frequency,
    /// The same with a brace half way along its longer side: sag, first resonance.
    pub braced: (Length, Frequency),
}

/// Screws or inserts around a driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoltCheck {
    /// How many.
    pub count: u8,
    /// Straight from one to the next.
    pub chord: Length,
    /// Wood between the hole of an insert and the cut-out; below zero where they meet.
    pub to_cutout: Length,
    /// From the hole of an insert to the flange's edge.
    pub to_edge: Length,
}

/// Fill in a closed box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fill {
    /// How much.
    pub mass: Mass,
}

/// A diagonal to measure outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Diagonal {
    /// Of the front; of one that leans along its slope.
    Front,
    /// Of either side; both ways it is the same.
    Side,
    /// Of either side, from the lower edge of the front to the upper edge of the back.
    FromLowerFront,
    /// Of either side, from the upper edge of the front to the foot of the back.
    FromUpperFront,
    /// Of the top.
    Top,
    /// Of the bottom.
    Bottom,
}

/// What is checked at the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    /// Weight and centre of gravity.
    pub weight: Weight,
    /// Whether a driver's weight is in it.
    pub with_drivers: bool,
    /// Outside diagonals: of front, side and top, or of every face of a shaped box.
    pub diagonals: Vec<(Diagonal, ExactLength)>,
    /// The weakest panel; `None` while travel or area are unknown.
    pub panel: Option<PanelCheck>,
    /// The bolts of a driver; `None` while their circle is unknown.
    pub bolts: Option<BoltCheck>,
    /// Fill, if it was entered.
    pub fill: Option<Fill>,
    /// Air of the drivers on both sides of a board between them, left first.
    pub halves: Option<[Volume; 2]>,
}

/// Halves that differ by more than this share of their mean are told: a twentieth (common practice, no source).
const UNEVEN: f64 = 0.05;

impl Bench {
    /// By which share of their mean the halves differ, where that is worth telling.
    #[must_use]
    pub fn uneven(&self) -> Option<f64> {
        let [left, right] = self.halves?.map(Volume::litres);
        Some((left - right).abs() / ((left + right) / 2.0)).filter(|share| *share > UNEVEN)
    }
}

/// Everything checked at the bench.
#[must_use]
pub fn bench(sheet: &Sheet, report: &Report, enclosure: &BoxReport) -> Bench {
    let assembly = &enclosure.plan.current().assembly;
    let driver = sheet.si(FieldId::DriverWeight).map(Mass::from_kilograms);
    Bench {
        weight: weight(&enclosure.spec, assembly, driver),
        with_drivers: driver.is_some() && enclosure.spec.driver.is_some(),
        diagonals: diagonals(assembly),
        panel: panel(sheet, report, enclosure),
        bolts: bolts(sheet, enclosure),
        fill: fill(sheet, enclosure),
        halves: halves(&enclosure.spec, assembly, &enclosure.plan.current().ledger),
    }
}

/// Outside diagonals. Of a side that is no rectangle both differ, and so do those of top and bottom.
fn diagonals(assembly: &Assembly) -> Vec<(Diagonal, ExactLength)> {
    let [deep, wide, high] = assembly.outside.millimetres();
    let across = |[a, b]: [f64; 2]| ExactLength::from_millimetres(a.hypot(b));
    let Some(side) = assembly.side() else {
        let found =
            [(Diagonal::Front, [wide, high]), (Diagonal::Side, [deep, high]), (Diagonal::Top, [wide, deep])];
        return found.map(|(which, sides)| (which, across(sides))).to_vec();
    };
    // From the front's lower edge around: the back's foot second, its head last but one, the front's upper edge last.
    let corners = side.corners();
    let corner = |place: usize| corners.get(place).copied().unwrap_or_default();
    let last = corners.len().saturating_sub(1);
    let (foot, far, head) = (corner(1), corner(last.saturating_sub(1)), corner(last));
    let found = [
        (Diagonal::Front, [wide, head[0].hypot(head[1])]),
        (Diagonal::FromLowerFront, far),
        (Diagonal::FromUpperFront, [foot[0] - head[0], foot[1] - head[1]]),
        (Diagonal::Top, [wide, far[0] - head[0]]),
        (Diagonal::Bottom, [wide, foot[0]]),
    ];
    found.map(|(which, sides)| (which, across(sides))).to_vec()
}

/// The panel that sags most, between the boards it is held at.
fn panel(sheet: &Sheet, report: &Report, enclosure: &BoxReport) -> Option<PanelCheck> {
    let sound = report.sound.as_ref().ok()?;
    let driver = report.driver.as_ref().ok()?;
    let count = enclosure.spec.driver.as_ref().map_or(1.0, |cutout| f64::from(cutout.count));
    let travel = sound.figures.excursion.value;
    let pressure =
        peak_pressure(sound.air.bulk_modulus_pa(), driver.driver.sd * count, travel, enclosure.plan.net())
            .ok()?;
    let boards = &enclosure.spec.boards;
    let shell = [boards.shell];
    let layers = boards.front.get(..usize::from(enclosure.spec.front_layers))?;
    let mut worst: Option<PanelCheck> = None;
    for field in fields(&enclosure.plan.current().assembly) {
        // A front of another board may give more than the back.
        let plate = plate(sheet, field.sides, if field.front { layers } else { &shell })?;
        let sag = plate.sag(pressure).ok()?;
        if worst.is_some_and(|worst| worst.sag.metres() >= sag.metres()) {
            continue;
        }
        let braced = plate.braced();
        worst = Some(PanelCheck {
            faces: field.faces,
            pressure,
            force_newtons: plate.force_newtons(pressure),
            sag,
            mode: plate.first_mode().ok()?,
            braced: (braced.sag(pressure).ok()?, braced.first_mode().ok()?),
        });
    }
    worst
}

/// A panel of one board or of glued layers, which is as stiff as one of their whole thickness of the softer of them and
/// weighs what they weigh.
fn plate(sheet: &Sheet, [a, b]: [Length; 2], layers: &[Board]) -> Option<Plate> {
    let moduli = layers.iter().map(|board| modulus(sheet, board.number));
    let softest = moduli.collect::<Option<Vec<f64>>>()?.into_iter().reduce(f64::min)?;
    let metres: f64 = layers.iter().map(|board| board.thickness.metres()).sum();
    let per_area: f64 = layers.iter().map(|board| board.thickness.metres() * board.density_kg_m3).sum();
    Some(Plate {
        a,
        b,
        thickness: Length::from_metres(metres),
        modulus_pa: softest * 1e9,
        density_kg_m3: per_area / metres,
    })
}

/// Bolts to a driver.
pub(crate) fn bolt_count(sheet: &Sheet) -> u8 {
    sheet.choice_key(FieldId::BoltCount).parse().unwrap_or(8)
}

fn bolts(sheet: &Sheet, enclosure: &BoxReport) -> Option<BoltCheck> {
    let cutout = enclosure.spec.driver.as_ref()?;
    let circle = sheet.length(FieldId::BoltCircle)?.metres();
    let insert = sheet.length(FieldId::InsertDiameter).unwrap_or_default().metres();
    let count = bolt_count(sheet);
    let chord = circle * (std::f64::consts::PI / f64::from(count)).sin();
    Some(BoltCheck {
        count,
        chord: Length::from_metres(chord),
        to_cutout: Length::from_metres((circle - cutout.cutout.metres() - insert) / 2.0),
        to_edge: Length::from_metres((cutout.flange.metres() - circle - insert) / 2.0),
    })
}

fn fill(sheet: &Sheet, enclosure: &BoxReport) -> Option<Fill> {
    let grams_per_litre = sheet.si(FieldId::FillWeight).filter(|&value| value > 0.0)?;
    Some(Fill { mass: Mass::from_grams(grams_per_litre * enclosure.plan.net().litres()) })
}
