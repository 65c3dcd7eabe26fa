//! The space of a design as measured: what is kept free in it, where the box stands, what a floor's diagonals say.
use std::ops::RangeInclusive;

use super::document::Sheet;
use super::evaluate::RingReport;
use super::limits::FieldId;
use super::report::{BoxReport, Report};
use crate::model::error::ModelError;
use crate::model::geometry::plane::hull;
use crate::model::geometry::space::measure::{self, Skew};
use crate::model::geometry::space::{
    KeepOut, KeepOutKind, Prism, Standing, above_well, arch_block, arch_rounded, best_place, gaps,
    largest_block, sweep,
};
use crate::model::geometry::{Axis, Dims, Role};
use crate::units::ExactLength;

/// The entries that measure more than a block; they stand together in the table.
const MEASURES: RangeInclusive<FieldId> = FieldId::SpaceSide..=FieldId::BoxFromFront;

/// A space with everything that is kept free in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Vehicle {
    /// The block it is measured in.
    pub block: Dims,
    /// Gap to everything.
    pub clearance: ExactLength,
    /// What is kept free.
    pub keep_outs: Vec<KeepOut>,
    /// What the diagonals of the floor say.
    pub floor: Option<Skew>,
    /// What a well under the floor gives, if a box may reach into it: the block inside it.
    pub well: Option<Dims>,
    /// Entries that can't be read, and why.
    pub refused: Vec<(FieldId, ModelError)>,
}

/// Whether anything is entered beside the block; costs next to nothing.
#[must_use]
pub fn is_measured(sheet: &Sheet) -> bool {
    sheet.has_any(&MEASURES)
}

/// The space; `None` while the block is not entered.
#[must_use]
#[inline(never)] // only where more than the block is measured
pub fn vehicle(sheet: &Sheet) -> Option<Vehicle> {
    let block = Dims {
        width: sheet.length(FieldId::SpaceWidth)?,
        height: sheet.length(FieldId::SpaceHeight)?,
        depth: sheet.length(FieldId::SpaceDepth)?,
    };
    let clearance = sheet.length(FieldId::Clearance).unwrap_or_default();
    let mut space =
        Vehicle { block, clearance, keep_outs: Vec::new(), floor: None, well: None, refused: Vec::new() };
    space.limits(sheet);
    space.arches(sheet);
    space.well(sheet);
    space.lid(sheet);
    let own = [FieldId::KeepOut, FieldId::SecondKeepOut, FieldId::ThirdKeepOut];
    for (id, number) in own.into_iter().zip(1..) {
        match sheet.text(id) {
            "" => {}
            text => match measure::body(text) {
                Ok(prism) => space.keep(KeepOutKind::Own(number), [prism]),
                Err(error) => space.refused.push((id, error)),
            },
        }
    }
    Some(space)
}

impl Vehicle {
    fn keep(&mut self, kind: KeepOutKind, bodies: impl IntoIterator<Item = Prism>) {
        self.keep_outs.extend(bodies.into_iter().map(|prism| KeepOut { kind, prism }));
    }

    /// Stations on the side and on the plan, diagonals of the floor.
    fn limits(&mut self, sheet: &Sheet) {
        let [depth, width, height] = self.block.millimetres();
        match side_stations(sheet) {
            Some(Ok(stations)) => {
                self.keep(KeepOutKind::Behind, measure::behind(&stations, depth, height, width));
            }
            Some(Err(error)) => self.refused.push((FieldId::SpaceSide, error)),
            None => {}
        }
        match sheet.text(FieldId::SpacePlan) {
            "" => {}
            text => match measure::stations(text, 2, 3) {
                Ok(stations) => {
                    // The edge lies as far from the left as the widest station says.
                    let edge = stations.iter().map(|s| measure::offsets(s)[0]).fold(0.0, f64::max);
                    let [left, right] = measure::beside(&stations, edge, [depth, width, height]);
                    self.keep(KeepOutKind::LeftSide, left);
                    self.keep(KeepOutKind::RightSide, right);
                }
                Err(error) => self.refused.push((FieldId::SpacePlan, error)),
            },
        }
        match floor(sheet) {
            Some(Ok(found)) => {
                let [left, right, behind] = measure::skewed(&found, width, depth, height);
                self.keep(KeepOutKind::LeftSide, left);
                self.keep(KeepOutKind::RightSide, right);
                self.keep(KeepOutKind::Rear, behind);
                self.floor = Some(found);
            }
            Some(Err(error)) => self.refused.push((FieldId::FloorDiagonal, error)),
            None => {}
        }
    }

    fn arches(&mut self, sheet: &Sheet) {
        let size = [FieldId::ArchWidth, FieldId::ArchHeight, FieldId::ArchFrom, FieldId::ArchLength];
        let [Some(wide), Some(high), Some(from), Some(long)] = size.map(|id| millimetres(sheet, id)) else {
            return;
        };
        let width = self.block.width.millimetres();
        let body = |across| match sheet.choice_key(FieldId::ArchShape) {
            "rounded" => arch_rounded(across, [from, from + long], high),
            _ => arch_block(across, [from, from + long], high),
        };
        let sides = sheet.choice_key(FieldId::ArchSide);
        if matches!(sides, "left" | "both") {
            self.keep(KeepOutKind::LeftArch, [body([0.0, wide])]);
        }
        if matches!(sides, "right" | "both") {
            self.keep(KeepOutKind::RightArch, [body([width - wide, width])]);
        }
    }

    fn well(&mut self, sheet: &Sheet) {
        let Some(across) = millimetres(sheet, FieldId::WellWidth) else { return };
        match sheet.choice_key(FieldId::WellUse) {
            "keep free" => {
                let places = [FieldId::WellFrom, FieldId::WellAcross].map(|id| millimetres(sheet, id));
                let [Some(from), Some(left)] = places else { return };
                let height = self.block.height.millimetres();
                self.keep(KeepOutKind::Well, [above_well([from, left], across, height)]);
            }
            "reach in" => {
                // The largest square in the circle, less the gap all round and below.
                let gap = self.clearance.millimetres();
                let side = across * std::f64::consts::FRAC_1_SQRT_2 - 2.0 * gap;
                let deep = millimetres(sheet, FieldId::WellDepth).unwrap_or(0.0) - gap;
                if side > 0.0 && deep > 0.0 {
                    let [side, height] = [side, deep].map(ExactLength::from_millimetres);
                    self.well = Some(Dims { width: side, height, depth: side });
                }
            }
            _ => {}
        }
    }

    fn lid(&mut self, sheet: &Sheet) {
        let size = [FieldId::LidFrom, FieldId::LidHeight, FieldId::LidReach];
        let [Some(from), Some(high), Some(reach)] = size.map(|id| millimetres(sheet, id)) else { return };
        let width = self.block.width.millimetres();
        let across = match millimetres(sheet, FieldId::LidArm) {
            Some(arm) if arm < width / 2.0 => vec![[0.0, arm], [width - arm, width]],
            _ => vec![[0.0, width]],
        };
        self.keep(KeepOutKind::Lid, across.into_iter().map(|across| sweep([from, high], reach, across)));
    }

    /// The size of the largest block clear of everything, the clearances on both faces not taken off. What a straight
    /// limit behind already stands for may be left out.
    #[must_use]
    pub fn clear(&self, leans: bool) -> Dims {
        let kept: Vec<KeepOut> = self
            .keep_outs
            .iter()
            .filter(|keep_out| !(leans && keep_out.kind == KeepOutKind::Behind))
            .cloned()
            .collect();
        let Some([min, max]) = largest_block(self.block, &kept, self.clearance.millimetres()) else {
            return Dims::default();
        };
        Dims::of(|axis| {
            let size = max[axis.index()] - min[axis.index()];
            ExactLength::from_millimetres(size) + self.clearance * 2
        })
    }

    /// What something is too large for the whole block, along each axis where it is: below zero.
    pub fn spare(&self, outside: Dims) -> impl Iterator<Item = (Axis, ExactLength)> + use<> {
        let (block, gap) = (self.block, self.clearance * 2);
        let each = Axis::ALL.into_iter().map(move |axis| (axis, block.get(axis) - gap - outside.get(axis)));
        each.filter(|(_, spare)| *spare < ExactLength::ZERO)
    }

    /// The gap of bodies at a place to each thing kept free, in mm; below zero they stand in each other.
    #[must_use]
    pub fn gaps(&self, bodies: &[Prism], at: [f64; 3]) -> Vec<(KeepOutKind, f64)> {
        gaps(bodies, &self.keep_outs, at)
    }

    /// How a box stands in it.
    #[must_use]
    pub fn standing(&self, sheet: &Sheet, enclosure: &BoxReport) -> Standing {
        self.place(sheet, &outside_of(enclosure), enclosure.outside)
    }

    /// How bodies in a block of the given size stand in it.
    #[must_use]
    pub fn place(&self, sheet: &Sheet, bodies: &[Prism], size: Dims) -> Standing {
        let typed = [FieldId::BoxFromLeft, FieldId::BoxFromFront].map(|id| millimetres(sheet, id));
        let wanted = self.clearance + sheet.length(FieldId::WrapThickness).unwrap_or_default();
        let wanted = wanted.millimetres();
        best_place(bodies, &self.keep_outs, self.block, size, wanted, typed)
    }
}

fn millimetres(sheet: &Sheet, id: FieldId) -> Option<f64> {
    sheet.length(id).map(ExactLength::millimetres)
}

/// Stations on the side, if any are entered.
pub(super) fn side_stations(sheet: &Sheet) -> Option<Result<Vec<Vec<f64>>, ModelError>> {
    Some(sheet.text(FieldId::SpaceSide))
        .filter(|text| !text.is_empty())
        .map(|text| measure::stations(text, 2, 2))
}

/// What the diagonals of the floor say, if both are entered.
#[must_use]
pub fn floor(sheet: &Sheet) -> Option<Result<Skew, ModelError>> {
    quadrangle(sheet, [FieldId::SpaceWidth, FieldId::SpaceDepth, FieldId::FloorDiagonal, FieldId::FloorOther])
}

/// What the diagonals of the door or hatch say, if both are entered.
#[must_use]
pub fn hatch(sheet: &Sheet) -> Option<Result<Skew, ModelError>> {
    quadrangle(sheet, [FieldId::DoorWidth, FieldId::DoorHeight, FieldId::DoorDiagonal, FieldId::DoorOther])
}

fn quadrangle(sheet: &Sheet, ids: [FieldId; 4]) -> Option<Result<Skew, ModelError>> {
    let [across, away, first, second] = ids.map(|id| millimetres(sheet, id));
    Some(measure::skew(across?, away?, [first?, second?]))
}

/// The outside of a box as convex bodies: the block or the prism of its sides, and what reaches beyond.
#[must_use]
pub fn outside_of(enclosure: &BoxReport) -> Vec<Prism> {
    let assembly = &enclosure.plan.current().assembly;
    let mut bodies = Vec::new();
    let width = assembly.outside.width.millimetres();
    match assembly.side() {
        Some(side) => {
            let levels = side.levels();
            bodies.extend(
                levels.iter().map(|level| Prism::over(Axis::Width, [0.0, width], level.corners().to_vec())),
            );
        }
        None => bodies.push(Prism::block([0.0; 3], assembly.outside.millimetres())),
    }
    // Sides that form legs reach before the front.
    for body in assembly.with_role(Role::Shell) {
        let bounds = body.bounds();
        if bounds.min[0] < -0.01 {
            bodies.push(Prism::block(bounds.min, [0.0, bounds.max[1], bounds.max[2]]));
        }
    }
    bodies
}

/// The space and how the box of a report stands in it.
#[must_use]
pub fn in_place(sheet: &Sheet, report: &Report) -> Option<(Vehicle, Standing)> {
    let space = vehicle(sheet)?;
    let standing = space.standing(sheet, report.enclosure.as_ref().ok()?);
    Some((space, standing))
}

/// The outside of stacked rings, standing on their bottom: the convex outline around all of them over their whole height.
/// What an outline leaves free in a bay counts as taken.
#[must_use]
pub fn outside_of_rings(rings: &RingReport) -> (Vec<Prism>, Dims) {
    let outlines = rings.layers().into_iter().flat_map(|layer| layer.outer.polyline());
    // Sections along the height have the depth first.
    let line = hull(&outlines.map(|[width, depth]| [depth, width]).collect::<Vec<_>>());
    let least = |axis: usize| line.iter().map(|at| at[axis]).fold(f64::INFINITY, f64::min);
    let min = [least(0), least(1)];
    let section: Vec<_> = line.iter().map(|at| [at[0] - min[0], at[1] - min[1]]).collect();
    let prism = Prism::over(Axis::Height, [0.0, rings.stack.depth.millimetres()], section);
    let [_, max] = prism.bounds();
    let size = Dims::of(|axis| ExactLength::from_millimetres(max[axis.index()]));
    (vec![prism], size)
}
