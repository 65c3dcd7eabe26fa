//! The pieces of a box as they are put on: their room, what they touch, and the ways they come.
use super::slabs::{self, Slab};
use super::{Joint, Side};
use crate::model::geometry::assembly::{Assembly, BodyKind, FRONT_TUBES, Role};
use crate::model::geometry::axes::{Axis, End, InsideEdge};
use crate::model::geometry::parts::PartId;
use crate::model::geometry::polygon::Turn;

/// A gap up to this is closed by glue and clamps: what slips in is cut up to two steps of the tape short.
pub(super) const CLOSED: f64 = 3.5;
/// Common room up to this is touching.
pub(super) const TOUCH: f64 = 0.5;

/// All directions a face may look in.
const SIDES: [Side; 6] = [
    (Axis::Depth, End::Low),
    (Axis::Depth, End::High),
    (Axis::Width, End::Low),
    (Axis::Width, End::High),
    (Axis::Height, End::Low),
    (Axis::Height, End::High),
];

/// A piece.
pub(super) struct Piece {
    pub(super) id: PartId,
    pub(super) is_shell: bool,
    /// All of it, a brace with its window.
    whole: Vec<Slab>,
    /// What it takes up: a brace as four boards.
    boards: Vec<Slab>,
    /// How its board is turned.
    turn: Option<Turn>,
    /// The axis along which a panel of the shell is thick.
    thick: Option<Axis>,
    /// The inside edge of a corner strip.
    edge: Option<InsideEdge>,
}

/// Every piece, panels of the shell from the front to the back first.
pub(super) fn of(assembly: &Assembly) -> Vec<Piece> {
    let mut all: Vec<Piece> = Vec::new();
    for body in &assembly.bodies {
        let (id, edge) = match body.kind {
            BodyKind::Board(id) => (id, None),
            BodyKind::Strip(edge) => (PartId::Strip(edge), Some(edge)),
            BodyKind::PortTube(number) => (tube(number), None),
            _ => continue,
        };
        let [whole, boards] = slabs::of(body);
        all.push(Piece {
            id,
            // The divider is put in like a brace.
            is_shell: body.role == Role::Shell && id != PartId::Divider,
            whole,
            boards,
            turn: body.turn,
            thick: (body.role == Role::Shell).then(|| thick(id)),
            edge,
        });
    }
    let rank = |piece: &Piece| match piece.id {
        PartId::Front(layer) => usize::from(layer),
        PartId::Bottom => 10,
        PartId::Left => 11,
        PartId::Right => 12,
        PartId::Top => 13,
        PartId::Tread => 14,
        PartId::Riser => 15,
        PartId::Back => 16,
        _ => 20,
    };
    crate::small::sort_by(&mut all, |a, b| rank(a).cmp(&rank(b)));
    all
}

/// The tube a body belongs to.
pub(in crate::model::geometry) const fn tube(number: u8) -> PartId {
    if number < FRONT_TUBES { PartId::PortTube(number) } else { PartId::FrontTube(number - FRONT_TUBES) }
}

const fn thick(id: PartId) -> Axis {
    match id {
        PartId::Left | PartId::Right | PartId::Divider => Axis::Width,
        PartId::Top | PartId::Bottom | PartId::Tread => Axis::Height,
        _ => Axis::Depth,
    }
}

impl Piece {
    /// Whether the two are made to occupy the same place: strips meet in mitres, braces are notched round them, a tube
    /// goes through the front.
    fn passes(&self, other: &Self) -> bool {
        use PartId::{Brace, Divider, Front, FrontTube, PortTube, Strip};
        matches!(
            (self.id, other.id),
            (Strip(_), Strip(_))
                | (Strip(_), Brace(..))
                | (Brace(..), Strip(_))
                | (PortTube(_) | FrontTube(_), Front(_) | Divider)
                | (Front(_) | Divider, PortTube(_) | FrontTube(_))
        )
    }

    /// The side it comes from without touching what stands: a panel from outside first.
    pub(super) fn way_in(&self, standing: &[&Self]) -> Option<Side> {
        let own = self.thick.unwrap_or(Axis::Depth);
        let low = matches!(self.id, PartId::Left | PartId::Bottom | PartId::Front(_));
        let ends = if low { [End::Low, End::High] } else { [End::High, End::Low] };
        let axes = [own].into_iter().chain(own.others());
        axes.flat_map(|axis| ends.map(|end| (axis, end))).find(|&side| self.is_free(side, standing))
    }

    fn is_free(&self, side: Side, standing: &[&Self]) -> bool {
        let others = standing.iter().filter(|other| !self.passes(other));
        let mut obstacles = others.flat_map(|other| &other.boards);
        obstacles.all(|obstacle| self.boards.iter().all(|board| board.passes(side, obstacle, TOUCH)))
    }

    /// Where it meets pieces that stand.
    pub(super) fn joints(&self, standing: &[&Self]) -> Vec<Joint> {
        let mut all = Vec::new();
        for other in standing {
            let met = self.meets(other);
            let faces = SIDES.iter().filter(|face| met.contains(face));
            all.extend(faces.map(|&face| Joint { piece: self.id, face, onto: other.id }));
        }
        all
    }

    /// Whether a face is one along the axes; the wide face of a strip is none.
    fn has_face(&self, (axis, end): Side) -> bool {
        self.edge.is_none_or(|edge| edge.end(axis).is_none_or(|own| own == end))
    }

    /// Its faces that lie against another piece.
    fn meets(&self, other: &Self) -> Vec<Side> {
        // Two strips meet in a mitre and hold each other by the walls.
        if matches!((self.edge, other.edge), (Some(_), Some(_))) {
            return Vec::new();
        }
        let contacts = self.whole.iter().flat_map(|own| {
            other.whole.iter().flat_map(|theirs| own.contacts(self.turn, theirs, other.turn))
        });
        let sound = contacts.filter(|[own, theirs]| self.has_face(*own) && other.has_face(*theirs));
        sound.map(|[own, _]| own).collect()
    }

    /// Whether a panel of the shell lies with its face on the edge of another.
    pub(super) fn covers(&self, other: &Self) -> bool {
        let Some(axis) = self.thick.filter(|axis| other.thick != Some(*axis)) else { return false };
        self.meets(other).iter().any(|side| side.0 == axis)
    }

    /// Whether it has its place: held in two directions, or by everything it will ever touch.
    pub(super) fn is_held(&self, standing: &[&Self], waiting: &[&Self]) -> bool {
        let joints = self.joints(standing);
        let Some(first) = joints.first() else { return false };
        joints.iter().any(|joint| joint.face.0 != first.face.0) || self.joints(waiting).is_empty()
    }
}
