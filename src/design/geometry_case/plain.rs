//! Cases with rectangular boxes.
use serde_json::{Value, json};

use super::{Answer, PLAIN_WINDOW, Refusal, bare, count, cutout, length, mm, number, object, outside, part};
use super::{planned, taken, window};
use crate::model::geometry::edges::BACK;
use crate::model::geometry::edges::Owners;
use crate::model::geometry::{
    Axis, CornerStrips, Dimension, Dims, HoleShape, InsideEdge, LedgerItem, Legs, MeasuredStripFace, Pair,
    PartId, Plan, Port, Precedence, RoundPort, SlotPort, SlotWidth, StripVoids, TerminalHole, WindowBrace,
    strips,
};
use crate::units::{ExactLength, Volume};

fn size(plan: &Plan, id: PartId, axis: Axis) -> ExactLength {
    plan.current().sizes.get(id, Dimension::from(axis))
}

pub(super) fn rect_box(input: &Value) -> Answer {
    let mut spec = outside(input)?;
    let pair = |value: &Value| match value.as_str() {
        Some("sides") => Ok(Pair::Sides),
        Some("topbottom") => Ok(Pair::TopBottom),
        Some("frontback") => Ok(Pair::FrontBack),
        _ => Err(Refusal::Unread),
    };
    let order = object(input, "precedence")?;
    let at = |place: usize| order.get(place).ok_or(Refusal::Unread).and_then(pair);
    spec.owners = Owners::by(Precedence::new([at(0)?, at(1)?, at(2)?])?);
    let plan = planned(&spec)?;
    let inside = plan.current().assembly.inside;
    let t = spec.boards.shell.thickness;
    let (width, height, depth) = (Axis::Width, Axis::Height, Axis::Depth);
    let panel = |id, a: (&str, Axis), b: (&str, Axis)| {
        part(&[(a.0, size(&plan, id, a.1)), (b.0, size(&plan, id, b.1)), ("thickness", t)])
    };
    Ok(json!({
        "internal_mm": [mm(inside.width), mm(inside.height), mm(inside.depth)],
        "net_litres": plan.net().litres(),
        "sides_panel_mm": panel(PartId::Left, ("height", height), ("depth", depth)),
        "topbottom_panel_mm": panel(PartId::Top, ("width", width), ("depth", depth)),
        "frontback_panel_mm": panel(PartId::Front(0), ("width", width), ("height", height)),
        "front_layers": spec.front_layers,
    }))
}

pub(super) fn driver(input: &Value) -> Answer {
    let mut spec = outside(input)?;
    spec.driver = Some(cutout(input, Some(length(input, "recess_diameter")?))?);
    let plan = planned(&spec)?;
    let ledger = &plan.current().ledger;
    let past = spec.driver.as_ref().map_or(ExactLength::ZERO, |driver| driver.depth)
        - (spec.front_thickness() - spec.recess_depth());
    Ok(json!({
        "internal_litres": ledger.gross.litres(),
        "cutout_air_litres": ledger.volume(LedgerItem::DriverHoles).litres(),
        "driver_body_litres": taken(ledger, &[LedgerItem::Drivers]),
        "net_litres": ledger.net.litres(),
        "protrusion_behind_inner_face_mm": mm(past),
    }))
}

/// A box around the inside given, with strips; exact sizes.
fn with_strips(
    input: &Value,
    edges: Vec<InsideEdge>,
    voids: StripVoids,
) -> Result<(Plan, ExactLength, ExactLength), Refusal> {
    let t = length(input, "strip_thickness")?;
    let inside = object(input, "internal_mm")?;
    let axis = |key: &str| Ok::<_, Refusal>(length(inside, key)? + t * 2);
    let dims = Dims { width: axis("width")?, height: axis("height")?, depth: axis("depth")? };
    let mut spec = bare(dims, &json!({ "thickness": mm(t) }))?;
    let face = length(input, "strip_face_width")?;
    let long = input.get("length").and_then(Value::as_f64).map(ExactLength::from_millimetres);
    spec.strips = Some(CornerStrips { edges, face, measured: MeasuredStripFace::Wide, length: long, voids });
    Ok((planned(&spec)?, face, t))
}

/// Leg, hidden face, closed-off area, wood and hollow of a strip (geometry.md section 3), from its solids.
fn strip_figures(face: ExactLength, t: ExactLength) -> [f64; 5] {
    let (wide, thick) = (mm(face), mm(t));
    let narrow = (wide - 2.0 * thick).max(0.0);
    let (prism, void) = (wide * wide / 4.0, narrow * narrow / 4.0);
    [wide * std::f64::consts::FRAC_1_SQRT_2, narrow, prism, prism - void, void]
}

pub(super) fn upright_strips(input: &Value) -> Answer {
    let wanted = usize::from(count(input, "count")?);
    let edges: Vec<InsideEdge> = InsideEdge::vertical().into_iter().take(wanted).collect();
    if edges.len() != wanted {
        return Err(Refusal::Unread);
    }
    let (sealed, face, t) = with_strips(input, edges.clone(), StripVoids::Sealed)?;
    let (open, ..) = with_strips(input, edges, StripVoids::Open)?;
    let [leg, narrow, prism, strip, void] = strip_figures(face, t);
    let wood = taken(&open.current().ledger, &[LedgerItem::CornerStrips, LedgerItem::StripVoids]);
    Ok(json!({
        "leg_mm": leg,
        "narrow_face_mm": narrow,
        "prism_area_mm2": prism,
        "strip_area_mm2": strip,
        "void_area_mm2": void,
        "closed_off_litres": taken(&sealed.current().ledger, &[LedgerItem::CornerStrips]),
        "strips_only_litres": wood,
        "net_litres_voids_sealed": sealed.net().litres(),
        "net_litres_voids_open": open.net().litres(),
    }))
}

pub(super) fn all_strips(input: &Value) -> Answer {
    let (plan, face, t) = with_strips(input, InsideEdge::all(), StripVoids::Sealed)?;
    let [leg, _, prism, ..] = strip_figures(face, t);
    Ok(json!({
        "leg_mm": leg,
        "prism_area_mm2": prism,
        "closed_off_litres": taken(&plan.current().ledger, &[LedgerItem::CornerStrips, LedgerItem::StripCorners]),
        "net_litres_voids_sealed": plan.net().litres(),
    }))
}

pub(super) fn ripped_strips(input: &Value) -> Answer {
    let wanted = usize::from(count(input, "count")?);
    let [face, thickness, kerf] =
        [length(input, "strip_face_width")?, length(input, "thickness")?, length(input, "kerf")?];
    let blank = |count| strips::blank_width(count, face, thickness, kerf);
    Ok(json!({
        // Each strip more takes as much; over a thousand the rounding of one does not show.
        "pitch_mm": mm(blank(1001) - blank(1)) / 1e3,
        "blank_width_mm": mm(blank(wanted)),
    }))
}

pub(super) fn round_port(input: &Value) -> Answer {
    let mut spec = outside(input)?;
    let (diameter, wall) = (length(input, "port_inner_diameter")?, length(input, "port_wall")?);
    spec.port = Port::Round(RoundPort {
        count: 1,
        diameter,
        wall,
        length: length(input, "port_length")?,
        centres: Vec::new(),
    });
    let plan = planned(&spec)?;
    let port = plan.current().assembly.port.ok_or(Refusal::Unread)?;
    Ok(json!({
        "baffle_hole_mm": mm(diameter + wall * 2),
        "length_inside_box_mm": mm(port.inside_length),
        "port_area_cm2": port.area().square_centimetres(),
        "displacement_litres": taken(&plan.current().ledger, &[LedgerItem::PortAir, LedgerItem::PortWalls]),
        "net_litres": plan.net().litres(),
        "clearance_to_back_mm": mm(port.to_back),
    }))
}

pub(super) fn slot_port(input: &Value) -> Answer {
    let mut spec = outside(input)?;
    let width = length(input, "slot_width")?;
    let walls = count(input, "added_side_walls")?;
    spec.port = Port::Slot(SlotPort {
        height: length(input, "slot_height")?,
        length: length(input, "port_length")?,
        width: match walls {
            0 => SlotWidth::Full,
            1 => SlotWidth::AgainstSide(width),
            _ => SlotWidth::FreeStanding(width),
        },
        bends: 0,
    });
    let plan = planned(&spec)?;
    let port = plan.current().assembly.port.ok_or(Refusal::Unread)?;
    let (wide, high, deep) = (Axis::Width, Axis::Height, Axis::Depth);
    let roof = part(&[
        ("width", size(&plan, PartId::PortRoof, wide)),
        ("length", size(&plan, PartId::PortRoof, deep)),
    ]);
    let wall = (walls > 0).then(|| {
        json!({
            "height": mm(size(&plan, PartId::PortWall(0), high)),
            "length": mm(size(&plan, PartId::PortWall(0), deep)),
            "count": walls,
        })
    });
    Ok(json!({
        "port_area_cm2": port.area().square_centimetres(),
        "length_inside_box_mm": mm(port.inside_length),
        "roof_panel_mm": roof,
        "side_wall_panel_mm": wall,
        "displacement_litres": taken(&plan.current().ledger, &[LedgerItem::PortAir, LedgerItem::PortWalls]),
        "net_litres": plan.net().litres(),
        "mouth_gap_to_back_mm": mm(port.to_back),
    }))
}

/// The centre line follows from the upright board, whose height the case gives.
pub(super) fn folded_slot(input: &Value) -> Answer {
    let mut spec = outside(input)?;
    let t = spec.boards.shell.thickness;
    let inside = spec.outside.depth - spec.front_thickness() - t;
    spec.port = Port::Slot(SlotPort {
        height: length(input, "slot_height")?,
        length: spec.front_thickness() + inside + t + length(input, "rise_above_roof")?,
        width: SlotWidth::Full,
        bends: 1,
    });
    let plan = planned(&spec)?;
    let port = plan.current().assembly.port.ok_or(Refusal::Unread)?;
    let board =
        |id, axis, name| part(&[("width", size(&plan, id, Axis::Width)), (name, size(&plan, id, axis))]);
    Ok(json!({
        "centreline_length_mm": mm(port.length),
        "roof_panel_mm": board(PartId::PortRoof, Axis::Depth, "length"),
        "riser_panel_mm": board(PartId::PortRiser, Axis::Height, "height"),
        "displacement_litres": taken(&plan.current().ledger, &[LedgerItem::PortAir, LedgerItem::PortWalls]),
        "net_litres": plan.net().litres(),
        "port_area_cm2": port.area().square_centimetres(),
    }))
}

pub(super) fn brace_and_terminal(input: &Value) -> Answer {
    let mut spec = outside(input)?;
    let opening = window(object(input, "window_mm")?, PLAIN_WINDOW)?;
    let braces = count(input, "brace_count")?;
    spec.braces = vec![WindowBrace { count: braces, across: Axis::Depth, window: opening }];
    let cup = object(input, "terminal_cup_body_mm")?;
    let (body, deep) = (window(cup, PLAIN_WINDOW)?, number(cup, "depth_from_outside")?);
    let cup_area = rounded_area(body);
    spec.terminal = Some(TerminalHole {
        face: BACK,
        window: None,
        shape: HoleShape::Rectangle(window(object(input, "terminal_cutout_mm")?, PLAIN_WINDOW)?),
        cup_depth: length(cup, "depth_from_outside")?,
        cup_volume: Some(Volume::from_litres(cup_area * deep * 1e-6)),
        centre: None,
    });
    let plan = planned(&spec)?;
    let ledger = &plan.current().ledger;
    Ok(json!({
        "window_area_cm2": rounded_area(opening) / 100.0,
        "brace_litres_each": taken(ledger, &[LedgerItem::Braces]) / f64::from(braces.max(1)),
        "cutout_air_litres": ledger.volume(LedgerItem::TerminalHole).litres(),
        "cup_litres": taken(ledger, &[LedgerItem::TerminalCup]),
        "net_litres": plan.net().litres(),
    }))
}

/// Area of a rectangle with rounded corners, in mm².
fn rounded_area(window: crate::model::geometry::Window) -> f64 {
    let radius = mm(window.corner_radius);
    mm(window.across) * mm(window.up) - (4.0 - std::f64::consts::PI) * radius * radius
}

/// The case stands on its legs: its height is our depth, its depth our height.
pub(super) fn legs(input: &Value) -> Answer {
    let external = object(input, "external_box_mm")?;
    let dims = Dims {
        width: length(external, "width")?,
        height: length(external, "depth")?,
        depth: length(external, "height")?,
    };
    let mut spec = bare(dims, input)?;
    spec.owners = Owners::by(Precedence::new([Pair::Sides, Pair::TopBottom, Pair::FrontBack])?);
    let plain = planned(&spec)?.net();
    let legs = Legs {
        height: length(input, "leg_height")?,
        window: length(input, "window_width")?,
        corner_radius: length(input, "window_top_corner_radius")?,
        rail: ExactLength::ZERO,
    };
    spec.legs = Some(legs);
    let plan = planned(&spec)?;
    let openings = legs.openings(plan.current().assembly.inside.width);
    Ok(json!({
        "side_panel_blank_mm": part(&[
            ("height", size(&plan, PartId::Left, Axis::Depth)),
            ("depth", size(&plan, PartId::Left, Axis::Height)),
        ]),
        "foot_length_mm": mm(legs.foot(spec.outside.height)),
        "window_area_cm2": legs.window_mm2() / 100.0,
        "total_opening_area_cm2": openings.square_centimetres(),
        "net_litres_unchanged": plan.net() == plain,
    }))
}
