//! What is particular about the parts of a shaped box: bevelled ends, and edges that follow a template.
use super::{
    Bevel, BoardEnd, BoardFace, CutSize, Dimension, InsideEdge, MeasuredFace, Oblique, Part, PartId,
    PartName, Tilt,
};
use crate::model::geometry::bent::shaped as bent;
use crate::model::geometry::profile::{Inside, Profile, Shape};
use crate::model::geometry::sizes::Sizes;
use crate::model::geometry::spec::BoxSpec;
use crate::model::geometry::strips::leaning;
use crate::units::ExactLength;

/// Adds bevels, names and the shaped edge to a part as rectangular boxes have it: those of the box that boards of these
/// sizes come to.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn finish(spec: &BoxSpec, profile: &Profile, planned: &Sizes, id: PartId, part: &mut Part) {
    part.name = match id {
        PartId::Top => PartName::Top,
        PartId::Bottom => PartName::Bottom,
        _ => part.name,
    };
    let asked = Shape::asked(spec, profile, ExactLength::ZERO);
    let Ok(shape) = asked.and_then(|shape| shape.as_cut(planned)) else { return };
    part.shaped = match id {
        PartId::Left | PartId::Right => true,
        PartId::Brace(..) => {
            let run = bent::of(spec);
            Inside::of(&shape).is_ok_and(|inside| !inside.brace(spec, run.as_ref()).is_upright_rectangle())
        }
        PartId::Divider => Inside::of(&shape).is_ok_and(|inside| !inside.polygon.is_upright_rectangle()),
        _ => false,
    };
    if let PartId::Strip(edge) = id {
        return strip(spec, &shape, edge, part);
    }
    part.bevels = if id.is_port_board() { of_slot(spec, &shape, id) } else { bevels(&shape, spec, id) };
    if part.bevels.is_empty() {
        return;
    }
    let along = |cut: &mut CutSize| {
        if cut.dimension != Dimension::Width {
            cut.measured_on = MeasuredFace::LongPoints;
        }
    };
    along(&mut part.length);
    along(&mut part.width);
}

/// The bevel of a strip's long edges, and its oblique ends.
fn strip(spec: &BoxSpec, shape: &Shape, edge: InsideEdge, part: &mut Part) {
    let Ok(inside) = Inside::of(shape) else { return };
    let found = leaning::place(spec, &inside, edge, part.width.planned).filter(|_| !inside.is_square(edge));
    let Some(found) = found else { return };
    part.width.tilt = found.tilt;
    // Finer than a saw shows is square.
    let ends = found.ends.into_iter().filter(|lean| *lean > 0.1);
    part.oblique = ends.map(Oblique::leaning).collect();
}

/// Bevelled ends of a board of a slot.
fn of_slot(spec: &BoxSpec, shape: &Shape, id: PartId) -> Vec<Bevel> {
    let run = bent::of(spec).zip(Inside::of(shape).ok());
    let run = run.and_then(|(run, inside)| run.cut(&inside.polygon, spec.tape_step));
    let all = run.map_or(Vec::new(), |run| run.bevels(id)).into_iter();
    all.filter_map(|(slope, end, long_on)| bevel(slope, end, long_on)).collect()
}

/// An end whose faces differ by so much for each thickness; none where that is square.
fn bevel(slope: f64, end: BoardEnd, long_on: BoardFace) -> Option<Bevel> {
    let tilt = Tilt::from_hundredths((slope.atan().to_degrees() * 100.0).round() as i32);
    (tilt != Tilt::SQUARE).then_some(Bevel { end, tilt, long_on })
}

fn bevels(shape: &Shape, spec: &BoxSpec, id: PartId) -> Vec<Bevel> {
    let board = shape.section().and_then(|section| shape.board(&section, id));
    let (Some(_), Ok(board)) = (shape.wall(id), board) else { return Vec::new() };
    let ends = board.beyond().into_iter().zip(ends(id, board.outer[1][0] < board.outer[0][0]));
    let thickness = spec.boards.of(id).thickness.millimetres();
    ends.filter_map(|(beyond, end): (f64, BoardEnd)| {
        let long_on = if beyond > 0.0 { BoardFace::Outside } else { BoardFace::Inside };
        bevel(beyond.abs() / thickness, end, long_on)
    })
    .collect()
}

/// The two ends of a board, anticlockwise around the side; a step's level board runs forward or backward.
const fn ends(id: PartId, forward: bool) -> [BoardEnd; 2] {
    use BoardEnd::{Front, Lower, Rear, Upper};
    match id {
        PartId::Bottom | PartId::Top | PartId::Tread if forward => [Rear, Front],
        PartId::Bottom | PartId::Top | PartId::Tread => [Front, Rear],
        PartId::Front(_) => [Upper, Lower],
        _ => [Lower, Upper],
    }
}
