//! The volume ledger: gross inside, line by line what is taken and gained, net.
use super::assembly::{Assembly, Body, BodyKind, FRONT_TUBES, Role};
use super::axes::{Axis, Dims, End};
use super::convex::Convex;
use super::parts::PartId;
use super::polygon::Polygon;
use super::solids::Solid;
use super::spec::BoxSpec;
use super::strips::{self, Standing, leaning};
use crate::small::sort_by;
use crate::units::{ExactLength, Volume};

/// A line of the ledger.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LedgerItem {
    /// Inside of the empty shell.
    GrossInside,
    /// Drivers, all that lies behind the flange.
    Drivers,
    /// Air gained in the drivers' holes behind the recess: π/4 Dc² (T − r).
    DriverHoles,
    /// Passive radiators, all that lies behind the flange.
    Radiators,
    /// Air gained in the radiators' holes.
    RadiatorHoles,
    /// Prisms closed off by corner strips.
    CornerStrips,
    /// What strips share where they meet, given back.
    StripCorners,
    /// Hollows behind the strips, given back where they are open to the box.
    StripVoids,
    /// Air in the port behind the front.
    PortAir,
    /// Walls of the port behind the front.
    PortWalls,
    /// Braces.
    Braces,
    /// Wood of braces inside the prism of a strip that passes through, given back.
    BracedStrips,
    /// Battens of a board that comes off.
    Battens,
    /// Air gained in the terminal hole.
    TerminalHole,
    /// Body of the terminal cup.
    TerminalCup,
}

/// One line: what, how many, and what it does to the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LedgerLine {
    /// What it is.
    pub item: LedgerItem,
    /// How many bodies.
    pub count: usize,
    /// Above zero adds air, below zero takes it.
    pub volume: Volume,
}

/// Gross inside, lines, net.
#[derive(Clone, Debug, PartialEq)]
pub struct Ledger {
    /// Everything but the gross inside, in the order of [`LedgerItem`]; no line that is zero.
    pub lines: Vec<LedgerLine>,
    /// Inside of the empty shell.
    pub gross: Volume,
    /// Air that loads the driver: gross plus all lines.
    pub net: Volume,
}

impl Ledger {
    /// Adds up the bodies of an assembly.
    ///
    /// The net may come out at or below zero; that is the caller's to judge, as [`super::Build::new`] does.
    #[must_use]
    pub fn of(spec: &BoxSpec, assembly: &Assembly) -> Self {
        let inside = assembly.inside;
        let size = Dims { width: inside.width - spec.before_cones(), ..inside };
        Self::of_room(spec, assembly, size, Side::Behind)
    }

    /// The air of what has no inside.
    pub(super) fn empty() -> Self {
        Self { lines: Vec::new(), gross: Volume::default(), net: Volume::default() }
    }

    /// The air before the drivers of a divided box.
    #[must_use]
    #[inline(never)]
    pub fn of_front_room(spec: &BoxSpec, assembly: &Assembly) -> Option<Self> {
        let divider = spec.divider()?;
        let size = Dims { width: divider.room, ..assembly.inside };
        Some(Self::of_room(spec, assembly, size, Side::Before))
    }

    #[inline(never)]
    fn of_room(spec: &BoxSpec, assembly: &Assembly, size: Dims, side: Side) -> Self {
        let divided = spec.divider();
        let has = |body: &Body| {
            divided.is_none_or(|divider| side_of(body, assembly.inside_min.width + divider.room) == side)
        };
        let behind = side == Side::Behind;
        let block = || Volume::from_cubic_metres(size.millimetres().iter().product::<f64>() * 1e-9);
        let gross = assembly.hollow.as_ref().map_or_else(block, |hollow| as_wide(hollow, size.width));
        let mut lines: Vec<LedgerLine> = Vec::new();
        let mut add = |item, count, volume: Volume| {
            let line = lines.iter_mut().find(|line| line.item == item);
            match line {
                Some(line) => {
                    line.count += count;
                    line.volume = line.volume + volume;
                }
                None => lines.push(LedgerLine { item, count, volume }),
            }
        };
        for body in assembly.bodies.iter().filter(|body| has(body)) {
            if let Some((item, sign)) = entry(body) {
                add(item, 1, body.solid.volume() * sign);
            }
        }
        if let Some(driver) = spec.driver.as_ref().filter(|_| behind) {
            let count = usize::from(driver.count);
            add(LedgerItem::Drivers, count, driver.displacement * -(count as f64));
        }
        if let Some(radiators) = spec.radiators() {
            let count = usize::from(radiators.count);
            add(LedgerItem::Radiators, count, radiators.displacement * -(count as f64));
        }
        if let Some(cup) = spec.terminal.as_ref().filter(|_| behind).and_then(|t| t.cup_volume) {
            add(LedgerItem::TerminalCup, 1, cup * -1.0);
        }
        add(LedgerItem::StripCorners, 1, shared_by_strips(assembly, Role::Displaced, &has));
        add(LedgerItem::StripVoids, 0, shared_by_strips(assembly, Role::Hollow, &has) * -1.0);
        let braced = behind && !spec.braces.is_empty();
        let (count, shared) = if braced { shared_by_braces(assembly) } else { (0, Volume::default()) };
        add(LedgerItem::BracedStrips, count, shared);
        lines.retain(|line| line.volume != Volume::default());
        sort_by(&mut lines, |a, b| a.item.cmp(&b.item));
        let net = gross + lines.iter().map(|line| line.volume).sum();
        Self { lines, gross, net }
    }

    /// The volume of one item; zero where there is no such line.
    #[must_use]
    pub fn volume(&self, item: LedgerItem) -> Volume {
        if item == LedgerItem::GrossInside {
            return self.gross;
        }
        let line = self.lines.iter().find(|line| line.item == item);
        line.map_or(Volume::default(), |line| line.volume)
    }
}

/// What the inside of a shaped box holds over a part of its width.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn as_wide(hollow: &Solid, width: ExactLength) -> Volume {
    match *hollow {
        Solid::Prism { section, from, opening, .. } => {
            Solid::Prism { section, from, width, opening }.volume()
        }
        ref other => other.volume(),
    }
}

/// The two rooms of a divided box; any other has only the one behind the drivers.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Behind,
    Before,
}

/// The room of a divided box from which a body takes air; the divider stands at `divider`.
#[inline(never)] // only divided boxes need it: it may come after the first result
fn side_of(body: &Body, divider: ExactLength) -> Side {
    let before = match body.kind {
        BodyKind::Batten(_) => body.solid.bounds().max[1] <= divider.millimetres() + 0.01,
        BodyKind::Strip(edge) | BodyKind::StripVoid(edge) => edge.end(Axis::Width) == Some(End::Low),
        BodyKind::PortAir(number) | BodyKind::PortTube(number) => number >= FRONT_TUBES,
        BodyKind::Board(id) => id == PartId::FrontRoof,
        _ => false,
    };
    if before { Side::Before } else { Side::Behind }
}

/// The line a body belongs to and the sign it counts with.
pub(super) fn entry(body: &Body) -> Option<(LedgerItem, f64)> {
    let item = match (body.kind, body.role) {
        (BodyKind::DriverHole(_), Role::GainedAir) => (LedgerItem::DriverHoles, 1.0),
        (BodyKind::RadiatorHole(_), Role::GainedAir) => (LedgerItem::RadiatorHoles, 1.0),
        (BodyKind::TerminalHole, Role::GainedAir) => (LedgerItem::TerminalHole, 1.0),
        (BodyKind::Strip(_), Role::Displaced) => (LedgerItem::CornerStrips, -1.0),
        (BodyKind::StripVoid(_), Role::Hollow) => (LedgerItem::StripVoids, 1.0),
        (BodyKind::PortAir(_), Role::Displaced) => (LedgerItem::PortAir, -1.0),
        (BodyKind::PortTube(_), Role::Displaced) => (LedgerItem::PortWalls, -1.0),
        (BodyKind::Board(id), Role::Displaced) if id.is_port_board() => (LedgerItem::PortWalls, -1.0),
        (BodyKind::Board(PartId::Brace(..)), Role::Displaced) => (LedgerItem::Braces, -1.0),
        (BodyKind::Batten(_), Role::Displaced) => (LedgerItem::Battens, -1.0),
        (BodyKind::TerminalCup, Role::Displaced) => (LedgerItem::TerminalCup, -1.0),
        _ => return None,
    };
    Some(item)
}

/// What prisms of one role share in the corners of the inside.
fn shared_by_strips(assembly: &Assembly, role: Role, has: &dyn Fn(&Body) -> bool) -> Volume {
    if assembly.hollow.is_some() {
        return shared_by_leaning(assembly, role, has);
    }
    let mut leg = 0.0;
    let mut standing = Vec::new();
    for body in assembly.with_role(role).filter(|body| has(body)) {
        if let Solid::CornerPrism { edge, start, length, face } = body.solid {
            leg = strips::leg_mm(face).max(leg);
            let from_low = start.get(edge.along) - assembly.inside_min.get(edge.along);
            let from_high = assembly.inside.get(edge.along) - from_low - length;
            standing.push(Standing {
                edge,
                from_low: from_low.millimetres(),
                from_high: from_high.millimetres(),
            });
        }
    }
    strips::shared_in_corners(&standing, leg)
}

/// The same where strips may lean: every two that overlap, less every three.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn shared_by_leaning(assembly: &Assembly, role: Role, has: &dyn Fn(&Body) -> bool) -> Volume {
    let strips = assembly.with_role(role).filter(|body| has(body)).map(|body| body.solid.prism_corners());
    let strips: Vec<Convex> = strips
        .filter_map(|corners| corners.try_into().ok())
        .map(|corners: leaning::Wedge| leaning::body(&corners))
        .collect();
    let mut mm3 = 0.0;
    for (i, a) in strips.iter().enumerate() {
        for (j, b) in strips.iter().enumerate().skip(i + 1) {
            let two = a.common(b);
            if two.faces.is_empty() {
                continue;
            }
            let thrice: f64 = strips.iter().skip(j + 1).map(|c| two.common(c).volume()).sum();
            mm3 += two.volume() - thrice;
        }
    }
    Volume::from_cubic_metres(mm3 * 1e-9)
}

/// Wood of braces within the prism of a strip that runs through them: the prism's section times the brace's thickness,
/// as long as the window leaves the corner whole (a window that reaches into the prism is an overlap fact).
#[inline(never)] // few boxes have any: it may come after the first result
fn shared_by_braces(assembly: &Assembly) -> (usize, Volume) {
    let mut found = (0, 0.0);
    for brace in assembly.with_role(Role::Displaced) {
        if let (Solid::Prism { .. }, BodyKind::Board(PartId::Brace(..) | PartId::Divider)) =
            (brace.solid, brace.kind)
        {
            found = shared_by_prism(assembly, brace, found);
        }
        let Solid::Frame { min, size, through, .. } = brace.solid else {
            continue;
        };
        for strip in assembly.with_role(Role::Displaced) {
            let Solid::CornerPrism { edge, start, length, face } = strip.solid else {
                continue;
            };
            if edge.along != through || !corner_is_wood(assembly, brace, edge, face) {
                continue;
            }
            let from = min.get(through).max(start.get(through));
            let to = (min.get(through) + size.get(through)).min(start.get(through) + length);
            let common = (to - from).millimetres().max(0.0);
            let w = face.millimetres();
            found.0 += usize::from(common > 0.0);
            found.1 += w * w / 4.0 * common;
        }
    }
    (found.0, Volume::from_cubic_metres(found.1 * 1e-9))
}

/// The same of a brace of a shaped box, which stands parallel to the sides.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn shared_by_prism(assembly: &Assembly, brace: &Body, mut found: (usize, f64)) -> (usize, f64) {
    let Solid::Prism { width, .. } = brace.solid else { return found };
    for strip in assembly.with_role(Role::Displaced) {
        if !through_prism(brace, strip) {
            continue;
        }
        match strip.solid {
            Solid::CornerPrism { face, .. } => {
                let w = face.millimetres();
                found.0 += 1;
                found.1 += w * w / 4.0 * width.millimetres();
            }
            Solid::Wedge { corners } => {
                found.0 += 1;
                found.1 += in_brace(brace, &corners);
            }
            _ => {}
        }
    }
    found
}

/// What of a strip's prism lies in a brace of a shaped box, in mm³; the brace may be cut to the tape a little short of the
/// strip's walls.
fn in_brace(brace: &Body, strip: &leaning::Wedge) -> f64 {
    let Solid::Prism { section, from, width, .. } = brace.solid else { return 0.0 };
    let sides = [from, from + width].map(ExactLength::millimetres);
    let strip = leaning::body(strip);
    let shared = section.levels().into_iter().map(|level| {
        let ring = |side: f64| level.corners().iter().map(|at| [at[0], side, at[1]]).collect::<Vec<_>>();
        strip.common(&Convex::between(&ring(sides[0]), &ring(sides[1]))).volume()
    });
    shared.sum()
}

/// The same of a strip with a bevel of its own: across the width, past the brace, and clear of its window.
fn wedge_through(brace: &Body, strip: &Body) -> bool {
    let (Solid::Prism { from, width, opening, .. }, Solid::Wedge { corners }) = (brace.solid, strip.solid)
    else {
        return false;
    };
    let bounds = strip.solid.bounds();
    let reaches =
        bounds.min[1] <= from.millimetres() + 1e-6 && bounds.max[1] >= (from + width).millimetres() - 1e-6;
    let along = matches!(strip.kind, BodyKind::Strip(edge) if edge.along == Axis::Width);
    let clear = opening.is_none_or(|window| {
        let [low, high] = window.bounds();
        let triangle = Polygon::new(&[0, 1, 2].map(|i| [corners[i][0], corners[i][2]]));
        let within = triangle
            .clipped(0, low[0], true)
            .clipped(0, high[0], false)
            .clipped(1, low[1], true)
            .clipped(1, high[1], false);
        within.without(None).abs() < 1e-6
    });
    reaches && along && clear
}

/// Whether a strip along the width runs through the wood of a brace of a shaped box.
pub(super) fn through_prism(brace: &Body, strip: &Body) -> bool {
    if matches!(strip.solid, Solid::Wedge { .. }) {
        return wedge_through(brace, strip);
    }
    let (Solid::Prism { section, from, width, opening }, Solid::CornerPrism { edge, start, length, .. }) =
        (brace.solid, strip.solid)
    else {
        return false;
    };
    let right = from + width;
    let reaches = start.width <= from && start.width + length >= right;
    // The triangle of the strip lies in the brace's wood where taking its bounds from the wood takes them whole.
    let bounds = strip.solid.bounds();
    let corner = [[bounds.min[0], bounds.min[2]], [bounds.max[0], bounds.max[2]]];
    let clear = opening.is_none_or(|window| {
        let [low, high] = window.bounds();
        (0..2).any(|i| low[i] >= corner[1][i] || high[i] <= corner[0][i])
    });
    edge.along == super::Axis::Width && reaches && clear && section.holds(corner)
}

/// Whether the brace fills the corner a strip runs through: it reaches into it and its window stays out of the prism.
pub(super) fn corner_is_wood(
    assembly: &Assembly,
    brace: &Body,
    edge: super::InsideEdge,
    face: ExactLength,
) -> bool {
    let Solid::Frame { min, size, through, window } = brace.solid else {
        return false;
    };
    let leg = strips::leg_mm(face);
    let opening = [window.across, window.up].map(|x| x.millimetres());
    // Distances of the window's nearest corner from the inside edge, along the two axes of the brace.
    let mut sum = 0.0;
    for (axis, opening) in through.others().into_iter().zip(opening) {
        let low = assembly.inside_min.get(axis).millimetres();
        let high = low + assembly.inside.get(axis).millimetres();
        let (from, to) = (min.get(axis).millimetres(), (min.get(axis) + size.get(axis)).millimetres());
        let beyond = match edge.end(axis) {
            Some(super::End::Low) => from - low,
            _ => high - to,
        };
        if beyond > 1e-6 {
            return false;
        }
        sum += beyond + (to - from - opening) / 2.0;
    }
    sum >= leg
}
