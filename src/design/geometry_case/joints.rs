//! Cases in which each edge has its owner, and stacks of rings.
use serde_json::{Map, Value, json};

use super::{Answer, Refusal, count, length, mm, number, object, part};
use crate::model::geometry::edges::{OwnedBox, Owners, Place, owned};
use crate::model::geometry::rings::{RingSpec, rectangle, stack};
use crate::model::geometry::{Axis, Dims, End, Pair, PartId, Precedence};
use crate::units::ExactLength;

/// Where a board of this name stands.
fn place(name: &str) -> Result<Place, Refusal> {
    Ok(match name {
        "front" => (Axis::Depth, End::Low),
        "back" => (Axis::Depth, End::High),
        "left" => (Axis::Width, End::Low),
        "right" => (Axis::Width, End::High),
        "bottom" => (Axis::Height, End::Low),
        "top" => (Axis::Height, End::High),
        _ => return Err(Refusal::Unread),
    })
}

/// The edges that are named one by one, over an order for all others. "front-*" names all four of a board at once; what
/// is not named as one of the two, such as "the tube board", is the other one.
fn owners(input: &Value, order: Precedence) -> Result<Owners, Refusal> {
    let named = object(input, "edge_owner")?.as_object().ok_or(Refusal::Unread)?;
    let mut owners = Owners::by(order);
    // Single edges after whole boards.
    let (whole, single): (Vec<_>, Vec<_>) =
        named.iter().filter(|(edge, _)| *edge != "others").partition(|(edge, _)| edge.ends_with('*'));
    for (edge, owner) in whole.into_iter().chain(single) {
        let (first, second) = edge.split_once('-').ok_or(Refusal::Unread)?;
        let (first, owner) = (place(first)?, owner.as_str().and_then(|name| place(name).ok()));
        let others: Vec<Place> = if second == "*" {
            first.0.others().into_iter().flat_map(|axis| End::BOTH.map(|end| (axis, end))).collect()
        } else {
            vec![place(second)?]
        };
        for other in others {
            let first_owns = owner == Some(first);
            let (owner, other) = if first_owns { (first, other) } else { (other, first) };
            owners = owners.with(owner, other)?;
        }
    }
    Ok(owners)
}

fn boards(found: &OwnedBox) -> Map<String, Value> {
    let entry = |board: &crate::model::geometry::edges::OwnedBoard| {
        let (name, axes) = match board.part {
            PartId::Left => ("left", [("depth", Axis::Depth), ("height", Axis::Height)]),
            PartId::Right => ("right", [("depth", Axis::Depth), ("height", Axis::Height)]),
            PartId::Top => ("top", [("width", Axis::Width), ("depth", Axis::Depth)]),
            PartId::Bottom => ("bottom", [("width", Axis::Width), ("depth", Axis::Depth)]),
            PartId::Back => ("back", [("width", Axis::Width), ("height", Axis::Height)]),
            _ => ("front", [("width", Axis::Width), ("height", Axis::Height)]),
        };
        (format!("{name}_panel_mm"), part(&axes.map(|(name, axis)| (name, board.size.get(axis)))))
    };
    found.boards.iter().map(entry).collect()
}

fn answer(found: &OwnedBox) -> Value {
    let mut answer = boards(found);
    answer.insert("open_notches".into(), found.notches.len().into());
    if !found.notches.is_empty() {
        answer.insert("notch_mm3".into(), json!(found.notch_volume().litres() * 1e6));
    }
    answer.insert("net_litres".into(), json!(found.air().litres()));
    Value::Object(answer)
}

pub(super) fn pinwheel(input: &Value) -> Answer {
    let size = object(input, "external_mm")?;
    let outside = Dims {
        width: length(size, "width")?,
        height: length(size, "height")?,
        depth: length(size, "depth")?,
    };
    let owners = owners(input, Precedence::default())?;
    Ok(answer(&owned(outside, length(input, "thickness")?, owners)?))
}

pub(super) fn cyclic(input: &Value) -> Answer {
    let side = length(input, "cube_mm")?;
    let order = Precedence::new([Pair::Sides, Pair::TopBottom, Pair::FrontBack])?;
    let owners = owners(input, order)?;
    Ok(answer(&owned(Dims::of(|_| side), length(input, "thickness")?, owners)?))
}

/// Rounded rectangles without the router's own radius, no pins.
pub(super) fn rings(input: &Value) -> Answer {
    let outline = object(input, "outline_mm")?;
    let [width, height, radius] = ["width", "height", "corner_radius"].map(|key| number(outline, key));
    let outline = rectangle([width?, height?], radius?)?;
    let spec = RingSpec {
        bottom: outline.clone(),
        top: outline,
        wall: length(input, "wall")?,
        thickness: length(input, "sheet_thickness")?,
        rings: usize::from(count(input, "rings")?),
        front_plates: count(input, "front_plates")?,
        back_plates: count(input, "back_plates")?,
        bit_radius: ExactLength::ZERO,
        pins: 0,
        pin_diameter: ExactLength::from_hundredths_mm(1000),
        density_kg_m3: 740.0,
    };
    let found = stack(&spec)?;
    let ring = found.rings.first().ok_or(Refusal::Unread)?;
    let [low, high] = ring.inner.bounds();
    Ok(json!({
        "inner_outline_mm": {
            "width": high[0] - low[0],
            "height": high[1] - low[1],
            "corner_radius": ring.inner.knots().iter().map(|knot| knot.radius).fold(0.0, f64::max),
        },
        "ring_area_cm2": ring.area().square_centimetres(),
        "total_depth_mm": mm(found.depth),
        "net_litres": found.air.litres(),
    }))
}
