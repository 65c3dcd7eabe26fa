//! A slot that bends: along the floor, up the back, along the top; each leg as wide as the inside.
//!
//! The roof ends one slot height before the back, an upright board stands on its end, and, where the slot bends twice,
//! a level board lies on that, one slot height below the top (geometry.md section 5). Corners are square; those of shaped
//! boxes, which need not be, are in [`shaped`].
pub(super) mod shaped;

use super::assembly::{Assembly, BodyKind, PortAsCut, Role};
use super::axes::{Axis, Dims, End, InsideEdge, Point};
use super::checks::Fact;
use super::parts::{Dimension, PartId};
use super::profile::{Back, Profile};
use super::shell::{Shell, shows};
use super::sizes::Sizes;
use super::solids::Solid;
use super::spec::{BoxSpec, Port, SlotPort, SlotWidth, WindowBrace};
use super::{sizes, strips};
use crate::model::error::ModelError;
use crate::units::ExactLength;

const ZERO: ExactLength = ExactLength::ZERO;
const SMALLEST: ExactLength = ExactLength::from_eighth_micrometres(1);

/// A slot laid into the inside that a specification asks for, unrounded, so that rounding never changes its bends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bent {
    /// How often it bends.
    pub(super) bends: u8,
    /// Height of the slot.
    height: ExactLength,
    board: ExactLength,
    /// Inside size.
    inside: Dims,
    /// Length behind the front.
    behind: ExactLength,
    step: ExactLength,
    /// What the last board may come out longer, as the bends go to the tape: in millimetres.
    spare_mm: f64,
}

/// The slot of a box and how often it bends; `None` without a slot that may.
pub(super) fn of(spec: &BoxSpec) -> Option<Bent> {
    match &spec.port {
        Port::Slot(slot) if slot.bends > 0 => laid(spec, slot),
        _ => None,
    }
}

#[inline(never)] // few boxes have one: it may come after the first result
fn laid(spec: &BoxSpec, slot: &SlotPort) -> Option<Bent> {
    let may = slot.width == SlotWidth::Full && spec.is_plain() && spec.profile.is_none();
    if !may {
        return None;
    }
    let walls = Shell::walls(spec);
    let inside = Dims::of(|axis| spec.outside.get(axis) - walls.get(axis));
    let behind = slot.length - spec.front_thickness();
    let spare_mm = behind.millimetres() * 2.0 * spec.tape_step.millimetres() / slot.height.millimetres();
    let mut bent = Bent {
        bends: 0,
        height: slot.height,
        board: spec.boards.inner.thickness,
        inside,
        behind,
        step: spec.tape_step,
        spare_mm,
    };
    // As often as leaves something of the last board; that below the top must cover the edge it lies on.
    let least = |bends| if bends == 2 { bent.board } else { spec.tape_step.max(SMALLEST) };
    let fits = |bends: &u8| bent.last_board(*bends, inside) >= least(*bends);
    bent.bends = (1..=slot.bends).rev().find(fits).unwrap_or(0);
    Some(bent)
}

/// Whether the slot of a box bends and ends with at least its own height before the board opposite.
#[must_use]
#[inline(never)] // few boxes have such a slot: it may come after the first result
pub fn bends_well(spec: &BoxSpec) -> bool {
    bending(spec).is_some_and(|bent| bent.gap() >= bent.height)
}

/// How often the slot of a box bends, whatever its shape.
pub(super) fn bends(spec: &BoxSpec) -> u8 {
    match &spec.port {
        Port::Slot(_) if spec.profile.is_some() => shaped::of(spec).map_or(0, |run| run.bends),
        _ => bending(spec).map_or(0, |bent| bent.bends),
    }
}

/// The same where it does bend.
pub(super) fn bending(spec: &BoxSpec) -> Option<Bent> {
    of(spec).filter(|bent| bent.bends > 0)
}

impl Bent {
    /// What floor and roof, or any other leg, take from the inside.
    pub(super) fn leg(&self) -> ExactLength {
        self.height + self.board
    }

    /// Height of the upright board, or depth of the upper one, that makes the centre line as long as asked for:
    /// T + Di + t + Lv with one bend (geometry.md section 5); T + Di + Hi − h + Lu with two, derived the same way.
    fn last_board(&self, bends: u8, inside: Dims) -> ExactLength {
        if bends == 2 {
            self.behind - inside.depth - inside.height + self.height
        } else {
            self.behind - inside.depth - self.board
        }
    }

    /// Highest point of the leg up the back above the floor.
    fn top(&self) -> ExactLength {
        match self.bends {
            0 => self.leg(),
            1 => self.leg() + self.last_board(1, self.inside),
            _ => self.inside.height,
        }
    }

    /// How far the leg along the top reaches from the back.
    fn along_top(&self) -> ExactLength {
        if self.bends < 2 { ZERO } else { self.height + self.last_board(2, self.inside) }
    }

    /// From the inner end to the board opposite.
    pub(super) fn gap(&self) -> ExactLength {
        match self.bends {
            0 => self.inside.depth - self.behind,
            1 => self.inside.height - self.top(),
            _ => self.inside.depth - self.along_top(),
        }
    }

    fn cut(&self, inside: Dims, roof: ExactLength) -> Cut {
        let behind = inside.depth - roof;
        Cut { height: self.height, board: self.board, inside, behind, up: ZERO, twice: false }
    }

    /// Depth of the roof in an inside as rounded.
    fn roof(&self, inside: Dims, step: ExactLength) -> ExactLength {
        (inside.depth - self.height).rounded_down_to(step)
    }

    /// What a brace loses along an axis of an inside as rounded, `start` being where it begins along its own.
    pub(super) fn taken_from_brace(
        &self,
        brace: &WindowBrace,
        start: ExactLength,
        (inside, step): (Dims, ExactLength),
        axis: Axis,
    ) -> ExactLength {
        let leg = self.leg();
        let behind = inside.depth - self.roof(inside, step) + self.board;
        let end = start + self.board;
        match (brace.across, axis) {
            (Axis::Width, Axis::Height) if self.bends == 2 => leg * 2,
            (Axis::Depth, Axis::Height) if end > self.inside.depth - self.along_top() => leg * 2,
            (Axis::Width | Axis::Depth, Axis::Height) => leg,
            (Axis::Width, Axis::Depth) => behind,
            (Axis::Height, Axis::Depth) if start < self.top() => behind,
            _ => ZERO,
        }
    }

    /// Room for an upright strip at the front: on the roof, below the leg along the top where that reaches so far.
    pub(super) fn upright_room(&self, inside: ExactLength, strip_leg_mm: f64) -> strips::Room {
        let start = self.leg();
        let free = (self.inside.depth - self.along_top()).millimetres();
        if free >= strip_leg_mm + self.spare_mm {
            return strips::Room { start, length: inside - start };
        }
        // As high as the upright board behind it is cut.
        strips::Room { start, length: (inside - start * 2).rounded_down_to(self.step) }
    }
}

/// Whether a corner strip would lie in a slot, and so is left out: along the floor of a straight one; of a bent one all but
/// those along the top that it stays clear of, and the upright ones at the front, which stand on its roof.
pub(super) fn in_slot(spec: &BoxSpec, edge: InsideEdge) -> bool {
    if spec.is_plain() {
        match &spec.port {
            Port::Slot(slot) => hides(spec, slot, edge),
            _ => false,
        }
    } else {
        strips::on_floor_of_slot(spec, edge)
    }
}

#[inline(never)] // few boxes have such a slot: it may come after the first result
fn hides(spec: &BoxSpec, slot: &SlotPort, edge: InsideEdge) -> bool {
    if let Some(run) = shaped::of(spec).filter(|run| run.bends > 0) {
        return run.hides(spec, edge);
    }
    match bending(spec) {
        Some(bent) => bent.hides(spec, edge),
        None => strips::in_straight_slot(spec, slot, edge),
    }
}

impl Bent {
    #[inline(never)] // few boxes have such a slot: it may come after the first result
    fn hides(&self, spec: &BoxSpec, edge: InsideEdge) -> bool {
        let (bent, Some(wanted)) = (self, &spec.strips) else { return false };
        let leg = strips::leg_mm(wanted.wide_face(spec.boards.strips.thickness));
        let near_top = (bent.inside.height - bent.top()).millimetres() < leg + bent.spare_mm;
        match edge.along {
            Axis::Height => edge.end(Axis::Depth) == Some(End::High),
            _ if edge.end(Axis::Height) == Some(End::Low) => true,
            Axis::Depth => near_top,
            Axis::Width if edge.end(Axis::Depth) == Some(End::High) => near_top,
            Axis::Width => (bent.inside.depth - bent.along_top()).millimetres() < leg + bent.spare_mm,
        }
    }
}

/// What of a bent slot decides its length, as cut.
#[derive(Clone, Copy)]
struct Cut {
    height: ExactLength,
    board: ExactLength,
    inside: Dims,
    /// Clear room between the roof and the back.
    behind: ExactLength,
    /// Height of the upright board.
    up: ExactLength,
    twice: bool,
}

impl Cut {
    /// Clear height of the leg along the top.
    fn over(&self) -> ExactLength {
        self.inside.height - self.height - self.board * 2 - self.up
    }

    /// Length behind the front without the last board, in millimetres, and what each millimetre of that one adds.
    ///
    /// Along the centre line with square corners. A leg that came out higher or lower than the mouth counts by the mass
    /// of its air: so much longer as its section is smaller. How much of a corner counts acoustically no source says;
    /// taking all of it is common practice.
    fn last_counts(&self) -> (f64, f64) {
        let [h, t, g] = [self.height, self.board, self.behind].map(ExactLength::millimetres);
        let floor = self.inside.depth.millimetres() - g / 2.0;
        if self.twice {
            let over = self.over().millimetres();
            let back = self.inside.height.millimetres() - over / 2.0 - h / 2.0;
            (floor + back * h / g + h / over * g / 2.0, h / over)
        } else {
            (floor + (h / 2.0 + t) * h / g, h / g)
        }
    }
}

impl Sizes {
    /// Boards of a slot that may bend, into an inside as rounded.
    #[inline(never)]
    pub(super) fn add_bent(&mut self, bent: Bent, inside: Dims, step: ExactLength) {
        let width = inside.width.rounded_down_to(step);
        let mut board = |id, axis: Axis, size| {
            self.add(id, Axis::Width, width);
            self.add(id, axis, size);
        };
        if bent.bends == 0 {
            // Too long to lie straight, too short to bend: the fact about its end says so.
            let reach = bent.behind.rounded_to(step).min(inside.depth);
            if reach > ZERO {
                board(PartId::PortRoof, Axis::Depth, reach);
            }
            return;
        }
        let roof = bent.roof(inside, step);
        board(PartId::PortRoof, Axis::Depth, roof);
        let mut cut = bent.cut(inside, roof);
        // The last board makes up for what rounding did to the bends.
        let last = |cut: Cut| {
            let (without, share) = cut.last_counts();
            let long = (bent.behind.millimetres() - without) / share;
            ExactLength::from_millimetres(long).rounded_to(step)
        };
        if bent.bends == 2 {
            let up = (inside.height - bent.leg() * 2).rounded_down_to(step);
            board(PartId::PortRiser, Axis::Height, up);
            cut = Cut { up, twice: true, ..cut };
            board(PartId::PortCeiling, Axis::Depth, last(cut));
        } else {
            let room = (inside.height - bent.leg()).rounded_down_to(step);
            board(PartId::PortRiser, Axis::Height, last(cut).min(room));
        }
    }
}

impl Assembly {
    /// A slot that bends, from its boards as cut.
    #[inline(never)]
    pub(super) fn add_bent(
        &mut self,
        spec: &BoxSpec,
        slot: &SlotPort,
        bent: Bent,
        sizes: &Sizes,
    ) -> Result<(), ModelError> {
        let refuse = |what| Err(ModelError::Impossible { what });
        let (t, h) = (spec.boards.inner.thickness, slot.height);
        let (deep, tall) = (self.inside.depth, self.inside.height);
        let roof = sizes.get(PartId::PortRoof, Dimension::Depth);
        let up = sizes.get(PartId::PortRiser, Dimension::Height);
        // Clear room at the bends, as cut.
        let behind = deep - roof;
        if behind <= ZERO {
            return refuse("the roof of the slot reaches the back: nothing is left for the bend");
        }
        let top = h + t + up;
        let twice = bent.bends == 2;
        let over = tall - top - t;
        if twice && over <= ZERO || top > tall {
            return refuse("the upright board of the slot is higher than the box");
        }
        let along = if twice { sizes.get(PartId::PortCeiling, Dimension::Depth) } else { ZERO };
        let to_back = match bent.gap() {
            _ if twice => roof - along,
            gap if gap < ZERO => gap,
            _ => tall - top,
        };
        if to_back < ZERO && (bent.bends >= slot.bends || twice) {
            return refuse(too_long(spec, slot));
        }
        let front = self.inside_min.depth;
        let block = |depth: ExactLength, height: ExactLength, long: ExactLength, high: ExactLength| {
            let min =
                Point { depth: front + depth, height: self.inside_min.height + height, ..self.inside_min };
            Solid::Block { min, size: Dims { width: self.inside.width, height: high, depth: long } }
        };
        let upper = if twice { tall - over } else { top };
        let mut legs = vec![block(ZERO, ZERO, deep, h), block(roof, h, behind, upper - h)];
        let mut boards = vec![
            (PartId::PortRoof, block(ZERO, h, roof, t)),
            (PartId::PortRiser, block(roof - t, h + t, t, up)),
        ];
        if twice {
            legs.push(block(roof - along, upper, behind + along, over));
            boards.push((PartId::PortCeiling, block(roof - along, top, along, t)));
        }
        if sizes::front_cut_back(spec) == ZERO {
            let mut mouth = block(-front, ZERO, front, h);
            if let Solid::Block { min, .. } = &mut mouth {
                min.depth = ZERO;
            }
            self.push(BodyKind::PortMouth(0), Role::Cut, mouth);
        }
        for (number, leg) in (0u8..).zip(legs) {
            self.push(BodyKind::PortAir(number), Role::Displaced, leg);
        }
        for (id, board) in boards {
            self.push(BodyKind::Board(id), Role::Displaced, board);
            self.cover(spec, id, Dimension::Width, sizes.get(id, Dimension::Width) - self.inside.width);
        }
        // Boards that were cut too long narrow the bends.
        self.cover(spec, PartId::PortRoof, Dimension::Depth, h - behind);
        if twice {
            self.cover(spec, PartId::PortRiser, Dimension::Height, h - over);
        }
        let cut = Cut { up, twice, ..bent.cut(self.inside, roof) };
        let (without, share) = cut.last_counts();
        let last = if twice { along } else { up };
        let inside_length = ExactLength::from_millimetres(without + share * last.millimetres());
        self.full_slot(h, inside_length, to_back, bent.bends);
        Ok(())
    }

    /// A slot `height` high and as wide as the inside, as cut: its length behind the front, what is free before its inner end,
    /// how often it bends.
    pub(super) fn full_slot(
        &mut self,
        height: ExactLength,
        inside_length: ExactLength,
        to_back: ExactLength,
        bends: u8,
    ) {
        self.port = Some(PortAsCut {
            count: 1,
            height,
            width: self.inside.width,
            round: false,
            length: inside_length + self.front_thickness,
            inside_length,
            to_back,
            bends,
        });
    }

    pub(super) fn cover(&mut self, spec: &BoxSpec, part: PartId, dimension: Dimension, over: ExactLength) {
        if over > ZERO && shows(over, spec) {
            self.misfits.push(Fact::Cover { part, dimension, over });
        }
    }

    /// Where the upright board of a bent slot begins behind the front's inner face, and its top above the floor.
    fn upright(&self) -> Option<[ExactLength; 2]> {
        self.bodies.iter().find_map(|body| match (body.kind, body.solid) {
            (BodyKind::Board(PartId::PortRiser), Solid::Block { min, size }) => {
                let top = min.height + size.height - self.inside_min.height;
                Some([min.depth - self.inside_min.depth, top])
            }
            _ => None,
        })
    }

    /// Lowest and highest corner of what a bent slot leaves of the inside before its upright board.
    pub(super) fn before_bent(&self) -> Option<[Point; 2]> {
        let [depth, _] = self.upright()?;
        let (mut low, mut high) = (self.inside_min, self.inside_min + self.inside);
        high.depth = self.inside_min.depth + depth;
        for body in &self.bodies {
            if let Solid::Block { min, size } = body.solid {
                match body.kind {
                    BodyKind::Board(PartId::PortRoof) => low.height = min.height + size.height,
                    BodyKind::Board(PartId::PortCeiling) => high.height = min.height,
                    _ => {}
                }
            }
        }
        Some([low, high])
    }

    /// Inside depth before what stands behind the drivers: the back, or the upright board of a bent slot.
    #[must_use]
    pub fn depth_behind_drivers(&self, magnet: ExactLength) -> ExactLength {
        match self.port {
            Some(port) if port.bends > 0 => self.before_upright(magnet),
            _ => self.inside.depth,
        }
    }

    #[inline(never)] // few boxes have such a slot: it may come after the first result
    fn before_upright(&self, magnet: ExactLength) -> ExactLength {
        let Some([depth, top]) = self.upright() else { return self.inside.depth };
        let top = self.inside_min.height + top;
        let low = self.layout.drivers.iter().any(|at| at.height - magnet.halved() < top);
        if low { depth } else { self.inside.depth }
    }
}

/// What would work for a slot that is too long, by how often it may bend already.
pub(super) fn too_long(spec: &BoxSpec, slot: &SlotPort) -> &'static str {
    let may = slot.width == SlotWidth::Full && spec.is_plain();
    let stepped = matches!(spec.profile, Some(Profile { back: Back::Step { .. }, .. }));
    match slot.bends {
        1.. if may && stepped => "the slot is longer than floor and lower back: make it lower",
        _ if !may => "the slot is longer than the box is deep: make it lower",
        0 => "the slot is longer than the box is deep: let it bend up the back, or make it lower",
        1 => "the slot is longer than floor and back: let it bend twice, or make it lower",
        _ => "the slot is longer than floor, back and top together: make it lower",
    }
}
