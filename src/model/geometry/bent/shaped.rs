//! A slot that bends in a shaped box: in the section along the floor, along the back as it leans, along the top.
//!
//! Every leg is a prism as wide as the inside. The roof ends one slot height, square to the back, before the back; the upright
//! board stands on it, parallel to the back, and carries the level board of a slot that bends twice. All ends that meet the
//! leaning board are bevelled by its lean, so that the faces along the slot are in one plane; that end which stands free is
//! square. In a box with a step the slot goes up the lower back only.
use crate::model::error::ModelError;
use crate::model::geometry::assembly::elsewhere;
use crate::model::geometry::axes::{Axis, End, InsideEdge};
use crate::model::geometry::parts::{BoardEnd, BoardFace, Dimension, PartId};
use crate::model::geometry::plane::{At, dot, minus, plus, unit};
use crate::model::geometry::polygon::Polygon;
use crate::model::geometry::profile::{Inside, Shape};
use crate::model::geometry::sizes::Sizes;
use crate::model::geometry::spec::{BoxSpec, Port, SlotPort, SlotWidth};
use crate::model::geometry::strips;
use crate::units::ExactLength;

/// A slot in the section of a shaped box, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::model::geometry) struct Run {
    /// How often it bends.
    pub(in crate::model::geometry) bends: u8,
    /// Height of the mouth.
    height: f64,
    board: f64,
    /// Length behind the front that is asked for.
    behind: f64,
    walls: Walls,
    /// Roof, upright board, level board: from long point to long point; zero where there is none.
    boards: [f64; 3],
}

/// What a slot runs along.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Walls {
    inside: Polygon,
    /// Inner face of the front, upwards.
    front: [At; 2],
    /// Foot of the back's inner face, and the way up.
    foot: At,
    up: At,
    /// The board above an end that looks up, and the level to which the back behind it goes.
    lid: f64,
    most: f64,
    stepped: bool,
}

/// The boards of a slot, in the order of [`Run::boards`].
const BOARDS: [(PartId, Dimension); 3] = [
    (PartId::PortRoof, Dimension::Depth),
    (PartId::PortRiser, Dimension::Height),
    (PartId::PortCeiling, Dimension::Depth),
];

/// Where a line through two points is at a height.
fn at_height([from, to]: [At; 2], height: f64) -> f64 {
    let rise = to[1] - from[1];
    let share = if rise == 0.0 { 0.0 } else { (height - from[1]) / rise };
    from[0] + (to[0] - from[0]) * share
}

impl Walls {
    fn of(inside: &Polygon) -> Option<Self> {
        let corners = inside.corners();
        let (&[low, foot, head, next, ..], Some(&top)) = (corners, corners.last()) else { return None };
        let stepped = corners.len() > 4;
        // Above the lower back of a box that is deeper below lies the step, of one that is deeper above the room.
        let closed = !stepped || next[0] < head[0];
        Some(Self {
            inside: *inside,
            front: [low, top],
            foot,
            up: unit(minus(head, foot)),
            lid: if closed { head[1] } else { top[1] },
            most: head[1],
            stepped,
        })
    }

    fn front_at(&self, height: f64) -> f64 {
        at_height(self.front, height)
    }

    /// How often a slot may bend: of a step it goes up the lower back only.
    fn most_bends(&self) -> u8 {
        if self.stepped { 1 } else { 2 }
    }

    /// Away from the back.
    fn inward(&self) -> At {
        [-self.up[1], self.up[0]]
    }

    /// The point at a height that lies so far from the back, square to it.
    fn off_back(&self, off: f64, height: f64) -> At {
        let from = plus(self.foot, self.inward(), off);
        [at_height([from, plus(from, self.up, 1.0)], height), height]
    }

    /// Tangent of the back's lean.
    fn lean(&self) -> f64 {
        -self.up[0] / self.up[1]
    }
}

/// The slot of a shaped box, unrounded, so that rounding never changes its bends; `None` where it has none but one that lies
/// straight behind an upright front.
#[inline(never)] // few boxes have one: it may come after the first result
pub(in crate::model::geometry) fn of(spec: &BoxSpec) -> Option<Run> {
    let (Some(profile), Port::Slot(slot)) = (&spec.profile, &spec.port) else { return None };
    let plain = slot.bends == 0 && profile.setback == ExactLength::ZERO;
    if plain { None } else { of_any(spec) }
}

/// The same of any slot of full width.
#[inline(never)] // few boxes have one: it may come after the first result
pub(in crate::model::geometry) fn of_any(spec: &BoxSpec) -> Option<Run> {
    let (Some(profile), Port::Slot(slot)) = (&spec.profile, &spec.port) else { return None };
    if slot.width != SlotWidth::Full || !spec.is_plain() {
        return None;
    }
    let shape = Shape::asked(spec, profile, ExactLength::ZERO).ok()?;
    Run::asked(spec, slot, &Inside::of(&shape).ok()?.polygon)
}

/// Whether a slot takes the place of the terminals in the back, so that they go into a side.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(in crate::model::geometry) fn takes_terminals(spec: &BoxSpec) -> bool {
    let usual = |terminal| elsewhere::is_usual(spec, terminal) && terminal.centre.is_none();
    spec.terminal.as_ref().is_some_and(usual) && of(spec).is_some_and(|run| run.bends > 0)
}

/// Whether the slot of a shaped box is too long to lie straight and too short to bend, as it may.
#[must_use]
#[inline(never)] // few boxes have one: it may come after the first result
pub fn slot_lacks_room(spec: &BoxSpec) -> bool {
    of(spec).is_some_and(|run| run.free_end() < 0.0)
}

/// The longest slot of so many bends that finds its own height free before its inner end in a shaped box.
#[must_use]
#[inline(never)] // few boxes have one: it may come after the first result
pub fn longest_bent(spec: &BoxSpec, bends: u8) -> Option<ExactLength> {
    let (Some(profile), Port::Slot(slot)) = (&spec.profile, &spec.port) else { return None };
    let shape = Shape::asked(spec, profile, ExactLength::ZERO).ok()?;
    let walls = Walls::of(&Inside::of(&shape).ok()?.polygon)?;
    let bends = bends.min(walls.most_bends());
    let run = Run::new(spec, slot, walls).bent(bends, ExactLength::ZERO);
    let (without, share) = run.last_counts();
    let last = match bends {
        0 => return None,
        1 => (walls.most.min(walls.lid - run.height) - run.on_roof()) / walls.up[1],
        _ => walls.off_back(run.height, run.below_upper())[0] - walls.front_at(walls.lid) - run.height,
    };
    Some(spec.front_thickness() + ExactLength::from_millimetres((without + share * last).max(0.0)))
}

impl Run {
    fn new(spec: &BoxSpec, slot: &SlotPort, walls: Walls) -> Self {
        Self {
            bends: 0,
            height: slot.height.millimetres(),
            board: spec.boards.inner.thickness.millimetres(),
            behind: (slot.length - spec.front_thickness()).millimetres(),
            walls,
            boards: [0.0; 3],
        }
    }

    fn asked(spec: &BoxSpec, slot: &SlotPort, inside: &Polygon) -> Option<Self> {
        let walls = Walls::of(inside)?;
        let straight = Self::new(spec, slot, walls);
        let most = slot.bends.min(walls.most_bends());
        // As often as leaves something of the last board; that below the top must cover the edge it lies on.
        let tape = spec.tape_step.max(super::SMALLEST).millimetres();
        // Both faces of the upright board stand on the roof.
        let least = |bends| match bends {
            2 => straight.board / walls.up[1],
            _ => tape + straight.board * walls.lean(),
        };
        let bent = (1..=most).rev().map(|bends| straight.bent(bends, ExactLength::ZERO));
        // Finer than a length is counted in.
        let found = bent.map(|run| (run.last(), run)).find(|(last, run)| *last > least(run.bends) - 1e-4);
        let (last, mut run) = found.unwrap_or((straight.last(), straight));
        run.boards[usize::from(run.bends)] = last;
        Some(run)
    }

    /// With so many bends, all boards but the last cut down to a step.
    fn bent(mut self, bends: u8, step: ExactLength) -> Self {
        let down = |mm: f64| ExactLength::from_millimetres(mm).rounded_down_to(step).millimetres();
        self.bends = bends;
        let walls = self.walls;
        if bends > 0 {
            self.boards[0] =
                down(walls.off_back(self.height, self.above())[0] - walls.front_at(self.above()));
        }
        if bends > 1 {
            let rise = walls.lid - self.height - self.board - self.on_roof();
            self.boards[1] = down(rise / walls.up[1] + self.board * walls.lean());
        }
        self
    }

    /// The same in an inside as rounded; the last board makes up for what rounding did to the bends.
    pub(in crate::model::geometry) fn cut(self, inside: &Polygon, step: ExactLength) -> Option<Self> {
        let walls = Walls::of(inside)?;
        let mut run = Self { walls, ..self }.bent(self.bends, step);
        let last = ExactLength::from_millimetres(run.last()).rounded_to(step);
        // Too long to lie straight, too short to bend: the fact about its end says so.
        let room = match run.bends {
            0 => run.clear() - walls.front_at(run.above()),
            1 => (walls.lid - run.on_roof()) / walls.up[1],
            _ => f64::INFINITY,
        };
        let room = ExactLength::from_millimetres(room.min(1e5)).rounded_down_to(step);
        run.boards[usize::from(run.bends)] = last.min(room).millimetres();
        Some(run)
    }

    /// The same with its boards as cut.
    pub(in crate::model::geometry) fn built(self, inside: &Polygon, sizes: &Sizes) -> Option<Self> {
        let walls = Walls::of(inside)?;
        let boards = BOARDS.map(|(id, along)| sizes.get(id, along).millimetres());
        Some(Self { walls, boards, ..self })
    }

    /// Level of the roof's lower face.
    fn above(&self) -> f64 {
        self.walls.foot[1] + self.height
    }
    /// Level of its upper face.
    pub(in crate::model::geometry) fn on_roof(&self) -> f64 {
        self.above() + self.board
    }
    /// Where the roof ends at its lower face.
    fn roof_end(&self) -> At {
        [self.walls.front_at(self.above()) + self.boards[0], self.above()]
    }
    /// Clear room between the roof and the back, square to that.
    pub(in crate::model::geometry) fn gap(&self) -> f64 {
        dot(minus(self.roof_end(), self.walls.foot), self.walls.inward())
    }
    /// Level on which the board below the top lies.
    fn below_upper(&self) -> f64 {
        self.on_roof() + (self.boards[1] - self.board * self.walls.lean()) * self.walls.up[1]
    }
    /// Clear height of the leg along the top.
    pub(in crate::model::geometry) fn over(&self) -> f64 {
        self.walls.lid - self.below_upper() - self.board
    }
    /// Upper end of the upright board's face in the slot.
    fn end_up(&self) -> At {
        plus(self.walls.off_back(self.gap(), self.on_roof()), self.walls.up, self.boards[1])
    }
    /// Front end of the level board, or rear end of a roof that lies straight.
    fn end_along(&self) -> f64 {
        match self.bends {
            0 => self.roof_end()[0],
            _ => self.walls.off_back(self.gap(), self.below_upper())[0] - self.boards[2],
        }
    }
    /// How far back a straight slot may reach.
    fn clear(&self) -> f64 {
        let clear = self.walls.inside.clear_between(self.walls.foot[1], self.on_roof());
        clear.map_or(self.walls.foot[0], |clear| clear[1])
    }

    /// Length behind the front without the last board, and what each millimetre of that one adds.
    ///
    /// Along the centre line, the front at half the mouth's height: from corner to corner where the centre lines of two legs
    /// meet, which of two legs of one height is on the bisector. How much of a corner counts acoustically no source says;
    /// taking the centre line is common practice. A leg that came out higher or lower than the mouth counts by the mass of
    /// its air: so much longer as its section is smaller. The front counts with its thickness, as its mouth is cut square.
    ///
    /// Behind an upright front T thick, on a floor D deep, before a back that leans by θ this comes to T + D + t/cos θ + U
    /// with one bend and to T + D + (H − h)/cos θ − (h + t) tan θ + L with two (derived); with θ = 0 that is the rule of
    /// geometry.md section 5.
    fn last_counts(&self) -> (f64, f64) {
        let (walls, half) = (&self.walls, self.height / 2.0);
        let middle = walls.foot[1] + half;
        let mouth = walls.front_at(middle);
        if self.bends == 0 {
            return (walls.front_at(self.above()) - mouth, 1.0);
        }
        let gap = self.gap();
        let share = self.height / gap;
        let corner = walls.off_back(gap / 2.0, middle);
        let floor = corner[0] - mouth;
        let up = |to: At| dot(minus(to, corner), walls.up) * share;
        if self.bends == 1 {
            return (floor + up(walls.off_back(gap, self.on_roof())), share);
        }
        let over = self.over();
        let second = walls.off_back(gap / 2.0, walls.lid - over / 2.0);
        let from = walls.off_back(gap, self.below_upper())[0];
        let share = self.height / over;
        (floor + up(second) + (second[0] - from) * share, share)
    }

    /// Length of the last board that makes the centre line as long as asked for.
    fn last(&self) -> f64 {
        let (without, share) = self.last_counts();
        (self.behind - without) / share
    }

    /// Length along the centre line behind the front.
    pub(in crate::model::geometry) fn length(&self) -> f64 {
        let (without, share) = self.last_counts();
        without + share * self.boards[usize::from(self.bends)]
    }

    /// From the inner end as asked for to the board opposite: below zero, too, where the slot goes on above the lower back.
    fn free_end(&self) -> f64 {
        let over = self.walls.most - self.end_up()[1];
        if self.bends == 1 && over < -1e-4 { over } else { self.end_room() }
    }

    /// From the inner end as cut to the board opposite; the tape may have let it stand over the lower back a little.
    fn end_room(&self) -> f64 {
        match self.bends {
            0 => self.clear() - self.end_along(),
            1 => self.walls.lid - self.end_up()[1],
            _ => self.end_along() - self.walls.front_at(self.walls.lid),
        }
    }

    /// What no slot can be, in an inside so high.
    pub(in crate::model::geometry) fn check(&self, inside: f64) -> Result<(), ModelError> {
        // Between roof and level board stands the upright one.
        let low = self.bends > 1 && self.below_upper() <= self.on_roof();
        let high = self.bends > 0 && self.on_roof() >= self.walls.most;
        let what = if self.height + self.board >= inside || low || high {
            "the slot port is wider or higher than the inside"
        } else if self.bends > 0 && self.gap() <= 1e-6 {
            "the roof of the slot reaches the back: nothing is left for the bend"
        } else if self.bends > 1 && self.over() <= 1e-6
            || self.bends == 1 && self.end_up()[1] > self.walls.lid + 1e-3
        {
            "the upright board of the slot is higher than the box"
        } else {
            return Ok(());
        };
        Err(ModelError::Impossible { what })
    }

    /// From the inner end as cut to the board opposite; of one for which there was no room, what it lacks as asked for.
    pub(in crate::model::geometry) fn free(&self, asked: &Self) -> f64 {
        match asked.free_end() {
            wanted if self.bends == 0 || wanted < 0.0 => self.end_room().min(wanted),
            _ => self.end_room(),
        }
    }

    /// Whether it bends as often as it may.
    pub(in crate::model::geometry) fn is_last(&self, slot: &SlotPort) -> bool {
        self.bends >= slot.bends.min(self.walls.most_bends())
    }

    /// Lower and upper edge of the mouth on the front's inner face.
    pub(in crate::model::geometry) fn mouth(&self) -> [At; 2] {
        [self.walls.front[0], [self.walls.front_at(self.above()), self.above()]]
    }

    /// Clear depth between the front and the upright board at its upper end.
    fn before_upright(&self) -> f64 {
        let [depth, level] = match self.bends {
            1 => plus(self.end_up(), self.walls.inward(), self.board),
            _ => self.walls.off_back(self.gap() + self.board, self.below_upper()),
        };
        depth - self.walls.front_at(level)
    }

    /// What the slot leaves of the section before it.
    pub(in crate::model::geometry) fn before(&self) -> Polygon {
        let mut left = self.walls.inside;
        if self.boards[0] > 0.0 {
            left = left.clipped(1, self.on_roof(), true);
        }
        if self.bends > 0 {
            let from = self.walls.off_back(self.gap() + self.board, self.on_roof());
            left = left.left_of([from, plus(from, self.walls.up, 1.0)]);
        }
        if self.bends > 1 { left.clipped(1, self.below_upper(), false) } else { left }
    }

    /// Its air, leg by leg.
    pub(in crate::model::geometry) fn air(&self) -> Vec<Polygon> {
        let (walls, gap) = (&self.walls, self.gap());
        let floor = walls.inside.clipped(1, self.above(), false);
        if self.bends == 0 {
            return vec![floor.clipped(0, self.end_along(), false)];
        }
        let [near, far] = [gap, 0.0].map(|off| walls.off_back(off, self.above()));
        if self.bends == 1 {
            let end = self.end_up();
            let up = Polygon::new(&[near, far, plus(end, walls.inward(), -gap), end]);
            // So near to the board opposite that the end touches it.
            return vec![floor, up.clipped(1, walls.lid, false)];
        }
        let level = walls.lid - self.over();
        let [head, crest] = [gap, 0.0].map(|off| walls.off_back(off, level));
        let top = walls.inside.clipped(1, level, true).clipped(0, self.end_along(), true);
        vec![floor, Polygon::new(&[near, far, crest, head]), top]
    }

    /// Its boards, anticlockwise from the lower front corner.
    pub(in crate::model::geometry) fn wood(&self) -> Vec<(PartId, [At; 4])> {
        let (walls, t) = (&self.walls, self.board);
        let gap = self.gap();
        let mut boards = Vec::with_capacity(3);
        let [low, high] = [self.above(), self.on_roof()];
        let rear =
            |level| if self.bends == 0 { [self.end_along(), level] } else { walls.off_back(gap, level) };
        let front = |level| [walls.front_at(level), level];
        boards.push((PartId::PortRoof, [front(low), rear(low), rear(high), front(high)]));
        if self.bends > 0 {
            let [near, far] = [gap + t, gap].map(|off| walls.off_back(off, high));
            let ends = match self.bends {
                1 => [self.end_up(), plus(self.end_up(), walls.inward(), t)],
                _ => [gap, gap + t].map(|off| walls.off_back(off, self.below_upper())),
            };
            boards.push((PartId::PortRiser, [near, far, ends[0], ends[1]]));
        }
        if self.bends > 1 {
            let [low, high] = [self.below_upper(), self.below_upper() + t];
            let from = self.end_along();
            boards.push((PartId::PortCeiling, [[from, low], rear(low), rear(high), [from, high]]));
        }
        boards.retain(|_| self.boards[0] > 0.0);
        boards
    }

    /// Sizes of its boards from long point to long point.
    pub(in crate::model::geometry) fn sizes(&self) -> Vec<(PartId, Dimension, ExactLength)> {
        let all = BOARDS.into_iter().zip(self.boards).enumerate();
        let there = all.filter(|(i, (_, long))| *i <= usize::from(self.bends) && (*i > 0 || *long > 0.0));
        there.map(|(_, ((id, along), long))| (id, along, ExactLength::from_millimetres(long))).collect()
    }

    /// Tangents of the bevels of a board, with their ends and the faces their long points are on.
    pub(in crate::model::geometry) fn bevels(&self, id: PartId) -> Vec<(f64, BoardEnd, BoardFace)> {
        use BoardFace::{Room, Slot};
        let [foot, head] = self.walls.front;
        let front = (head[0] - foot[0]) / (head[1] - foot[1]).max(1e-9);
        let back = self.walls.lean();
        match id {
            PartId::PortRoof if self.bends > 0 => {
                vec![(front, BoardEnd::Front, Slot), (back, BoardEnd::Rear, Slot)]
            }
            PartId::PortRoof => vec![(front, BoardEnd::Front, Slot)],
            PartId::PortRiser if self.bends > 1 => {
                vec![(back, BoardEnd::Lower, Slot), (back, BoardEnd::Upper, Room)]
            }
            PartId::PortRiser => vec![(back, BoardEnd::Lower, Slot)],
            PartId::PortCeiling => vec![(back, BoardEnd::Rear, Room)],
            _ => Vec::new(),
        }
    }

    /// Whether a corner strip would lie in the slot or close it off: all along the floor, those up the back that it reaches, those along the top
    /// that the slot comes near to, and those up a front that a slot along the top reaches.
    pub(in crate::model::geometry) fn hides(&self, spec: &BoxSpec, edge: InsideEdge) -> bool {
        let Some(wanted) = &spec.strips else { return false };
        // What the last board may come out longer, as the bends go to the tape.
        let spare = self.behind * 2.0 * spec.tape_step.millimetres() / self.height;
        let leg = strips::leg_mm(wanted.wide_face(spec.boards.strips.thickness)) + spare;
        let top = self.walls.front[1];
        let highest = match self.bends {
            0 => self.on_roof(),
            1 => self.end_up()[1] - self.walls.inward()[1] * self.gap(),
            _ => self.walls.lid,
        };
        let near_top = top[1] - highest < leg;
        let near_front = self.bends > 1 && self.end_along() - top[0] < leg;
        match (edge.along, edge.end(Axis::Depth)) {
            (Axis::Height, Some(End::High)) => self.bends > 0 || self.free_end() < leg,
            (Axis::Height, _) => near_front || self.bends > 0 && self.before_upright() < leg,
            _ if edge.end(Axis::Height) == Some(End::Low) => true,
            (Axis::Width, Some(End::Low)) => near_front,
            _ => near_top,
        }
    }
}
