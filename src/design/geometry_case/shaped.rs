//! Cases with slanted backs, and with any outline of the side.
use serde_json::{Value, json};

use super::{Answer, Refusal, bare, cutout, length, mm, number, object, planned, taken, window};
use crate::model::geometry::plane::area;
use crate::model::geometry::polygon::Polygon;
use crate::model::geometry::profile::{board, side};
use crate::model::geometry::section::{BoardSection, Section, Wall};
use crate::model::geometry::{
    Axis, Back, BackJoint, BoxSpec, CornerStrips, Dims, InsideEdge, LedgerItem, MeasuredStripFace, PartId,
    Port, Profile, SlotPort, SlotWidth, StripVoids, WindowBrace,
};
use crate::units::ExactLength;

/// A wedge with an upright front.
fn wedge(input: &Value, joint: BackJoint) -> Result<BoxSpec, Refusal> {
    let size = object(input, "external_mm")?;
    let dims = Dims {
        width: length(size, "width")?,
        height: length(size, "height")?,
        depth: length(size, "depth_bottom")?,
    };
    let mut spec = bare(dims, input)?;
    spec.profile = Some(Profile {
        setback: ExactLength::ZERO,
        back: Back::TopDepth(length(size, "depth_top")?),
        joint,
        front: BackJoint::Over,
    });
    Ok(spec)
}

pub(super) fn back_over(input: &Value) -> Answer {
    wedge_results(&wedge(input, BackJoint::Over)?)
}

pub(super) fn back_between(input: &Value) -> Answer {
    wedge_results(&wedge(input, BackJoint::Between)?)
}

fn wedge_results(spec: &BoxSpec) -> Answer {
    let plan = planned(spec)?;
    let section = side(spec)?;
    let sizes = &plan.current().sizes;
    let width = |id| mm(sizes.get(id, crate::model::geometry::Dimension::Width));
    let back = board(spec, PartId::Back)?;
    let [foot, head] = [1, 2].map(|corner| section.meeting(corner));
    let bevel = |part: &BoardSection, end: usize| tilt(part.beyond()[end], spec);
    let across = Polygon::new(section.inner()).bounds();
    let high = across[1][1] - across[0][1];
    // The last end of the bottom and the first of the top are at the back.
    let level = |id, rear: usize| -> Result<Value, Refusal> {
        let part = board(spec, id)?;
        let faces = part.faces();
        let outer = part.beyond()[rear] > 0.0;
        let lower = if outer == (id == PartId::Bottom) { "lower" } else { "upper" };
        Ok(json!({
            "width": width(id),
            "long_point": faces[0].max(faces[1]),
            "short_point": faces[0].min(faces[1]),
            "rear_edge_tilt_deg": bevel(&part, rear),
            "long_face": format!("{} ({lower})", if outer { "outside" } else { "inside" }),
        }))
    };
    let [start, end] = back.beyond();
    let parallel = if start * end < 0.0 && (start + end).abs() < 1e-9 {
        "parallel (parallelogram section)"
    } else {
        "not parallel"
    };
    Ok(json!({
        "back_angle_from_vertical_deg": lean(&back),
        "internal_height_mm": high,
        "mean_internal_depth_mm": area(section.inner()) / high,
        "net_litres": plan.net().litres(),
        "side_panel_polygon_mm": section.outline(),
        "back_panel_mm": {
            "width": width(PartId::Back),
            "face_length": back.faces()[0],
            "blank_length": back.blank(),
            "top_edge_tilt_deg": bevel(&back, 1),
            "bottom_edge_tilt_deg": bevel(&back, 0),
            "ends": parallel,
        },
        "bottom_panel_mm": level(PartId::Bottom, 1)?,
        "top_panel_mm": level(PartId::Top, 0)?,
        "front_panel_mm": {
            "width": width(PartId::Front(0)),
            "height": board(spec, PartId::Front(0))?.blank(),
            "layers": spec.front_layers,
        },
        "mitre_tilt_bottom_rear_deg": foot.mitre,
        "mitre_tilt_top_rear_deg": head.mitre,
    }))
}

/// Bevel from square of an end whose outer face reaches so far beyond the inner one.
fn tilt(beyond: f64, spec: &BoxSpec) -> f64 {
    (beyond.abs() / mm(spec.boards.shell.thickness)).atan().to_degrees()
}

/// Angle of a board from upright, in degrees.
fn lean(board: &BoardSection) -> f64 {
    let [from, to] = board.outer;
    (from[0] - to[0]).abs().atan2((to[1] - from[1]).abs()).to_degrees()
}

/// Any outline of the side, one board along each edge, butted with each board covering the one before it.
pub(super) fn profile(input: &Value) -> Answer {
    let outline = input.get("profile_ccw_mm").and_then(Value::as_array).ok_or(Refusal::Unread)?;
    let corner = |at: &Value| Some([at.get(0)?.as_f64()?, at.get(1)?.as_f64()?]);
    let outline: Vec<[f64; 2]> = outline.iter().map(corner).collect::<Option<_>>().ok_or(Refusal::Unread)?;
    let thickness = number(input, "thickness")?;
    let walls = vec![Wall { thickness, covers_next: false }; outline.len()];
    let section = Section::new(outline, walls)?;
    let names: Vec<&str> = input
        .get("edge_names")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    let count = section.outline().len();
    let name = |edge: usize| names.get(edge).map_or_else(|| edge.to_string(), |name| (*name).to_owned());
    let corners = (0..count).map(|corner| {
        let meeting = section.meeting(corner);
        json!({
            "corner": format!("{}/{}", name((corner + count - 1) % count), name(corner)),
            "interior_deg": meeting.interior,
            "butt_tilt_deg": meeting.butt,
            "mitre_tilt_deg": meeting.mitre,
        })
    });
    let wide = number(input, "width")? - 2.0 * thickness;
    Ok(json!({
        "inner_profile_mm": section.inner(),
        "corners": corners.collect::<Vec<_>>(),
        "net_litres": area(section.inner()) * wide.max(0.0) * 1e-6,
    }))
}

pub(super) fn combined(input: &Value) -> Answer {
    let mut spec = wedge(input, BackJoint::Over)?;
    spec.port = Port::Slot(SlotPort {
        height: length(input, "slot_height")?,
        length: length(input, "port_length")?,
        width: SlotWidth::Full,
        bends: 0,
    });
    // The two upright edges at the front.
    spec.strips = Some(CornerStrips {
        edges: InsideEdge::vertical().into_iter().take(2).collect(),
        face: length(input, "front_corner_cleat_face_width")?,
        measured: MeasuredStripFace::Wide,
        length: Some(length(input, "cleat_length")?),
        voids: StripVoids::Sealed,
    });
    let brace = object(input, "brace")?;
    let opening = window(brace, ["window_width", "window_height", "window_corner_radius"])?;
    spec.braces = vec![WindowBrace { count: 1, across: Axis::Width, window: opening }];
    spec.driver = Some(cutout(input, None)?);
    let plan = planned(&spec)?;
    let ledger = &plan.current().ledger;
    Ok(json!({
        "shell_litres": ledger.gross.litres(),
        "port_litres": taken(ledger, &[LedgerItem::PortAir, LedgerItem::PortWalls]),
        "cleats_litres": taken(ledger, &[LedgerItem::CornerStrips]),
        "brace_litres": taken(ledger, &[LedgerItem::Braces]),
        "cutout_air_litres": ledger.volume(LedgerItem::DriverHoles).litres(),
        "driver_litres": taken(ledger, &[LedgerItem::Drivers]),
        "net_litres": ledger.net.litres(),
    }))
}
