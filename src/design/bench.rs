//! What is checked at the bench: weight, diagonals, bolts, panels under pressure, fill.
use super::document::Sheet;
use super::limits::FieldId;
use super::report::{BoxReport, Report};
use super::wood::modulus;
use crate::model::geometry::halves::halves;
use crate::model::geometry::stiffness::{Plate, peak_pressure};
use crate::model::geometry::{Assembly, Axis, Board, Dims, Weight, weight};
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

/// What is checked at the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    /// Weight and centre of gravity.
    pub weight: Weight,
    /// Whether a driver's weight is in it.
    pub with_drivers: bool,
    /// Outside diagonals of front, side and top.
    pub diagonals: [ExactLength; 3],
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
    let outside = assembly.outside;
    let diagonal = |a: Axis, b: Axis| {
        let [a, b] = [a, b].map(|axis| outside.get(axis).millimetres());
        ExactLength::from_millimetres(a.hypot(b))
    };
    Bench {
        weight: weight(&enclosure.spec, assembly, driver),
        with_drivers: driver.is_some() && enclosure.spec.driver.is_some(),
        diagonals: if enclosure.spec.profile.is_some() {
            shaped_diagonals(assembly)
        } else {
            [
                diagonal(Axis::Width, Axis::Height),
                diagonal(Axis::Depth, Axis::Height),
                diagonal(Axis::Width, Axis::Depth),
            ]
        },
        panel: panel(sheet, report, enclosure),
        bolts: bolts(sheet, enclosure),
        fill: fill(sheet, enclosure),
        halves: halves(&enclosure.spec, assembly, &enclosure.plan.current().ledger),
    }
}

/// The same of a shaped box: of the front along its slope, of the side from the front's lower edge to the upper edge of
/// the back, of the underside.
fn shaped_diagonals(assembly: &Assembly) -> [ExactLength; 3] {
    let Some(side) = assembly.side() else { return Default::default() };
    let corners = side.corners();
    let corner = |place: usize| corners.get(place).copied().unwrap_or_default();
    let (foot, head) = (corner(1), corner(corners.len().saturating_sub(1)));
    let far = corner(corners.len().saturating_sub(2));
    let wide = assembly.outside.width.millimetres();
    [wide.hypot(head[0].hypot(head[1])), far[0].hypot(far[1]), wide.hypot(foot[0])]
        .map(ExactLength::from_millimetres)
}

/// The panel that sags most, between the inside edges it is held at.
fn panel(sheet: &Sheet, report: &Report, enclosure: &BoxReport) -> Option<PanelCheck> {
    let sound = report.sound.as_ref().ok()?;
    let driver = report.driver.as_ref().ok()?;
    let count = enclosure.spec.driver.as_ref().map_or(1.0, |cutout| f64::from(cutout.count));
    let travel = sound.figures.excursion.value;
    let pressure =
        peak_pressure(sound.air.bulk_modulus_pa(), driver.driver.sd * count, travel, enclosure.plan.net())
            .ok()?;
    let inside = enclosure.plan.current().assembly.inside;
    let boards = &enclosure.spec.boards;
    let layers = usize::from(enclosure.spec.front_layers);
    let mut plates = Vec::with_capacity(4);
    for faces in Axis::ALL {
        plates.push((faces, plate(sheet, inside, faces, &[boards.shell])?));
    }
    // A front of another board may give more than the back.
    plates.push((Axis::Depth, plate(sheet, inside, Axis::Depth, boards.front.get(..layers)?)?));
    let mut worst: Option<PanelCheck> = None;
    for (faces, plate) in plates {
        let sag = plate.sag(pressure).ok()?;
        if worst.is_some_and(|worst| worst.sag.metres() >= sag.metres()) {
            continue;
        }
        let braced = plate.braced();
        worst = Some(PanelCheck {
            faces,
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
fn plate(sheet: &Sheet, inside: Dims, faces: Axis, layers: &[Board]) -> Option<Plate> {
    let [a, b] = faces.others().map(|axis| inside.get(axis).to_length());
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
