//! The box as JSON: sizes, ledger, parts, fence order, facts, port.
use serde_json::{Value, json};

use super::super::names;
use super::{Object, litres, mm};
use crate::design::built;
use crate::design::report::{BoxReport, PortReport};
use crate::model::geometry::{
    Assembly, Batten, Bevel, BoardEnd, BoardFace, BodyKind, Build, CutSize, Dims, Fact, FenceSetting,
    InsideEdge, Ledger, LedgerLine, MeasuredFace, Part, PartId, PortAsCut, Stock, StripBlank, Tilt, Verdict,
    battens,
};
use crate::units::Volume;

/// Everything about the box as it is cut.
pub(super) fn enclosure(report: &BoxReport) -> Value {
    let plan = &report.plan;
    Object::new()
        .maybe("wanted_litres", report.wanted.map(Volume::litres))
        .maybe("largest_litres", report.largest.map(Volume::litres))
        .with("fits", report.fits)
        .with("current", build(plan.current()))
        .with("planned", build(&plan.planned))
        .with("exact", build(&plan.exact))
        .with("is_as_built", plan.as_built.is_some())
        .with("net_litres", litres(plan.net()))
        .with("rounding_effect_litres", litres(plan.rounding_effect()))
        .with("as_built_effect_litres", litres(plan.as_built_effect()))
        .with("front_thickness_mm", mm(plan.current().assembly.front_thickness))
        .with("recess_depth_mm", mm(report.spec.recess_depth()))
        .with("parts", plan.parts.iter().map(part).collect::<Vec<_>>())
        .with("strip_blanks", plan.strip_blanks.iter().map(blank).collect::<Vec<_>>())
        .maybe("battens", report.spec.loose.map(|_| batten_list(&plan.current().assembly)))
        .with("fence", plan.fence.iter().map(setting).collect::<Vec<_>>())
        .with("facts", plan.facts.iter().map(fact).collect::<Vec<_>>())
        .maybe("port", report.port.as_ref().map(|found| port(found, report.plan.current().assembly.port)))
        .maybe(
            "front_port",
            report.front_port.as_ref().map(|found| port(found, report.plan.current().assembly.front_port)),
        )
        .with("board_mass_kg", plan.board_mass(&report.spec).kilograms())
        .with("board_area_m2", plan.board_area().square_metres())
        .into()
}

fn dims(dims: Dims) -> Value {
    json!({ "width_mm": mm(dims.width), "height_mm": mm(dims.height), "depth_mm": mm(dims.depth) })
}

fn build(build: &Build) -> Value {
    air(&build.ledger)
        .with("outside", dims(build.assembly.outside))
        .with("side_mm", side(build))
        .with("inside", dims(build.assembly.inside))
        .maybe("front_room", build.front_room.as_ref().map(|room| Value::from(air(room))))
        .into()
}

fn air(ledger: &Ledger) -> Object {
    Object::new()
        .with("gross_litres", litres(ledger.gross))
        .with("lines", ledger.lines.iter().map(line).collect::<Vec<_>>())
        .with("net_litres", litres(ledger.net))
}

/// Corners of a side that is no rectangle: depth and height, anticlockwise from the front's lower edge.
fn side(build: &Build) -> Vec<[f64; 2]> {
    build.assembly.side().map_or(Vec::new(), |side| side.corners().to_vec())
}

fn line(line: &LedgerLine) -> Value {
    json!({ "item": names::ledger(line.item), "count": line.count, "litres": litres(line.volume) })
}

fn keys(pieces: &[PartId]) -> Vec<String> {
    pieces.iter().map(|piece| built::piece_key(*piece)).collect()
}

const fn measured_on(face: MeasuredFace) -> &'static str {
    match face {
        MeasuredFace::Either => "either face",
        MeasuredFace::Wide => "wide face",
        MeasuredFace::LongPoints => "long points",
    }
}

fn part(part: &Part) -> Value {
    let (stock, outer) = match part.stock {
        Stock::Board => ("board", None),
        Stock::Tube { outer } => ("tube", Some(mm(outer))),
    };
    Object::new()
        .with("name", names::part(part.name))
        .with("count", part.count())
        .with("pieces", keys(&part.pieces))
        .with("stock", stock)
        .with("length_mm", mm(part.length.planned))
        .with("width_mm", mm(part.width.planned))
        .with("thickness_mm", mm(part.thickness))
        .with("board", part.board)
        .maybe("outer_diameter_mm", outer)
        .with("cuts", part.cuts().iter().map(cut).collect::<Vec<_>>())
        .with("bevels", part.bevels.iter().map(bevel).collect::<Vec<_>>())
        .with("to_template", part.shaped)
        .into()
}

fn cut(cut: &CutSize) -> Value {
    json!({
        "dimension": names::dimension(cut.dimension),
        "planned_mm": mm(cut.planned),
        "exact_mm": mm(cut.exact),
        "bevel_degrees": cut.tilt.degrees(),
        "measured_on": measured_on(cut.measured_on),
        "mitred": cut.mitred,
    })
}

fn bevel(bevel: &Bevel) -> Value {
    json!({
        "end": match bevel.end {
            BoardEnd::Front => "front",
            BoardEnd::Rear => "rear",
            BoardEnd::Lower => "lower",
            BoardEnd::Upper => "upper",
        },
        "bevel_degrees": bevel.tilt.degrees(),
        "long_point_on": match bevel.long_on {
            BoardFace::Outside => "outside face",
            BoardFace::Inside => "inside face",
            BoardFace::Slot => "face in the slot",
            BoardFace::Room => "face out of the slot",
        },
    })
}

fn blank(blank: &StripBlank) -> Value {
    json!({ "strips": blank.count, "width_mm": mm(blank.width), "length_mm": mm(blank.length) })
}

/// The battens of a board that comes off.
fn batten_list(assembly: &Assembly) -> Vec<Value> {
    let row = |batten: Batten| {
        json!({
            "count": batten.count,
            "length_mm": mm(batten.length),
            "width_mm": mm(batten.width),
            "thickness_mm": mm(batten.thickness),
            "end_degrees": batten.ends.map(Tilt::degrees),
            "edge_degrees": batten.edge.degrees(),
        })
    };
    battens(assembly).into_iter().map(row).collect()
}

fn setting(setting: &FenceSetting) -> Value {
    let cuts = setting.cuts.iter().map(|cut| {
        json!({
            "part": names::part(cut.name),
            "dimension": names::dimension(cut.dimension),
            "pieces": keys(&cut.pieces),
            "bevels": cut.bevel.iter().map(bevel).collect::<Vec<_>>(),
        })
    });
    json!({
        "fence_mm": mm(setting.size),
        "bevel_degrees": setting.tilt.degrees(),
        "measured_on": measured_on(setting.measured_on),
        "mitred": setting.mitred,
        "cuts": cuts.collect::<Vec<_>>(),
    })
}

fn port(port: &PortReport, cut: Option<PortAsCut>) -> Value {
    Object::new()
        .with("tuning_hz", port.tuning.hertz())
        .maybe("wanted_hz", port.wanted.map(|wanted| wanted.hertz()))
        .with("length_mm", mm(port.length))
        .with("area_cm2", 1e4 * port.area_m2)
        .maybe("least_area_cm2", port.least_area_m2.map(|area| 1e4 * area))
        .maybe("shape", cut.map(|port| if port.round { "round" } else { "slot" }))
        .maybe("count", cut.map(|port| port.count))
        .maybe("height_mm", cut.map(|port| mm(port.height)))
        .maybe("width_mm", cut.map(|port| mm(port.width)))
        .maybe("inside_length_mm", cut.map(|port| mm(port.inside_length)))
        .maybe("to_back_mm", cut.map(|port| mm(port.to_back)))
        .maybe("bends", cut.filter(|port| !port.round).map(|port| port.bends))
        .into()
}

fn body(kind: BodyKind) -> String {
    let strip = |edge: InsideEdge| built::piece_key(PartId::Strip(edge));
    match kind {
        BodyKind::Board(id) => built::piece_key(id),
        BodyKind::DriverHole(n) => format!("driver hole {n}"),
        BodyKind::Recess(n) => format!("recess {n}"),
        BodyKind::Driver(n) => format!("driver {n}"),
        BodyKind::Strip(edge) => strip(edge),
        BodyKind::StripVoid(edge) => format!("hollow of {}", strip(edge)),
        BodyKind::PortMouth(n) => format!("port mouth {n}"),
        BodyKind::PortAir(n) => format!("port air {n}"),
        BodyKind::PortTube(n) => built::piece_key(PartId::PortTube(n)),
        BodyKind::TerminalHole => "terminal hole".into(),
        BodyKind::TerminalCup => "terminal cup".into(),
        BodyKind::TerminalWindow => "terminal window".into(),
        BodyKind::Batten(n) => format!("batten {n}"),
        BodyKind::LegWindow(n) => format!("leg window {n}"),
        BodyKind::RadiatorHole(n) => format!("radiator hole {n}"),
        BodyKind::Radiator(n) => format!("radiator {n}"),
    }
}

fn fact(fact: &Fact) -> Value {
    let object = |kind: &str| {
        let verdict = match fact.verdict() {
            Verdict::Fine => "fine",
            Verdict::Tight => "tight",
            Verdict::Fails => "fails",
        };
        Object::new().with("fact", kind).with("verdict", verdict)
    };
    match *fact {
        Fact::MagnetToBack { gap } => object("magnet to back").with("gap_mm", mm(gap)),
        Fact::PoleVent { gap, wanted } => {
            object("pole vent to back").with("gap_mm", mm(gap)).with("wanted_mm", mm(wanted))
        }
        Fact::PortToBack { gap, wanted } => {
            object("port to back").with("gap_mm", mm(gap)).with("wanted_mm", mm(wanted))
        }
        Fact::FlangeToEdge { driver, gap, wanted } => object("flange to edge")
            .with("driver", driver)
            .with("gap_mm", mm(gap))
            .with("wanted_mm", mm(wanted)),
        Fact::FlangeToFlange { gap } => object("flange to flange").with("gap_mm", mm(gap)),
        Fact::FlangeToPort { driver, gap } => {
            object("flange to port").with("driver", driver).with("gap_mm", mm(gap))
        }
        Fact::CutoutToWall { driver, gap } => {
            object("cut-out to wall").with("driver", driver).with("gap_mm", mm(gap))
        }
        Fact::MagnetToSide { gap } => object("magnet to side").with("gap_mm", mm(gap)),
        Fact::MagnetToBoard { driver, gap } => {
            object("magnet to board").with("driver", driver).with("gap_mm", mm(gap))
        }
        Fact::MagnetToMagnet { gap } => object("magnet to magnet").with("gap_mm", mm(gap)),
        Fact::TerminalBeside { gap } => object("terminal beside").with("gap_mm", mm(gap)),
        Fact::RadiatorToEdge { radiator, gap, wanted } => object("radiator to edge")
            .with("radiator", radiator)
            .with("gap_mm", mm(gap))
            .with("wanted_mm", mm(wanted)),
        Fact::RadiatorToFlange { gap } => object("radiator to flange").with("gap_mm", mm(gap)),
        Fact::RadiatorToWall { radiator, gap } => {
            object("radiator to wall").with("radiator", radiator).with("gap_mm", mm(gap))
        }
        Fact::RadiatorBehind { gap } => object("behind radiator").with("gap_mm", mm(gap)),
        Fact::TubeToWall { tube, gap } => object("tube to wall").with("tube", tube).with("gap_mm", mm(gap)),
        Fact::TubeToTube { gap } => object("tube to tube").with("gap_mm", mm(gap)),
        Fact::TerminalToWall { gap } => object("terminal to wall").with("gap_mm", mm(gap)),
        Fact::WoodBehindRecess { left, wanted } => {
            object("wood behind recess").with("left_mm", mm(left)).with("wanted_mm", mm(wanted))
        }
        Fact::Overlap { a, b } => object("overlap").with("a", body(a)).with("b", body(b)),
        Fact::CutoutOverStrip { driver } => object("cut-out over strip").with("driver", driver),
        Fact::Space { axis, spare } => {
            object("space").with("axis", names::axis(axis)).with("spare_mm", mm(spare))
        }
        Fact::SlantedSpace { spare } => object("leaning limit of the space").with("spare_mm", mm(spare)),
        Fact::StripsLeftOut { count } => object("strips left out").with("count", count),
        Fact::StripsInSlot { count } => object("strips in the slot").with("count", count),
        Fact::ThinBoard { thickness, wanted } => {
            object("thin board").with("thickness_mm", mm(thickness)).with("wanted_mm", mm(wanted))
        }
        Fact::Unequal { axis, inside, difference } => object("cut unequal")
            .with("axis", names::axis(axis))
            .with("inside_mm", mm(inside))
            .with("difference_mm", mm(difference)),
        Fact::UnequalPort { difference } => object("tubes unequal").with("difference_mm", mm(difference)),
        Fact::Cover { part, dimension, over } => object("cover")
            .with("piece", built::piece_key(part))
            .with("dimension", names::dimension(dimension))
            .with("over_mm", mm(over)),
    }
    .into()
}
