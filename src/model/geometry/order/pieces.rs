//! The pieces of a box as they are put on: their room, what they touch, and the ways they come.
use super::{Joint, Side};
use crate::model::geometry::assembly::{Assembly, BodyKind, FRONT_TUBES, Role};
use crate::model::geometry::axes::{Axis, End, InsideEdge};
use crate::model::geometry::parts::PartId;
use crate::model::geometry::solids::{Bounds, Solid};

/// A gap up to this is closed by glue and clamps: what slips in is cut up to two steps of the tape short.
const CLOSED: f64 = 3.5;
/// Common room up to this is touching.
const TOUCH: f64 = 0.5;

/// A piece.
pub(super) struct Piece {
    pub(super) id: PartId,
    pub(super) is_shell: bool,
    bounds: Bounds,
    /// What it takes up: a brace as four boards.
    boards: Vec<Bounds>,
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
        let bounds = body.solid.bounds();
        all.push(Piece {
            id,
            // The divider is put in like a brace.
            is_shell: body.role == Role::Shell && id != PartId::Divider,
            boards: boards(&body.solid, bounds),
            bounds,
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
        PartId::Back => 14,
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
        PartId::Top | PartId::Bottom => Axis::Height,
        _ => Axis::Depth,
    }
}

/// A brace leaves its window free.
fn boards(solid: &Solid, bounds: Bounds) -> Vec<Bounds> {
    let Solid::Frame { through, window, .. } = *solid else { return vec![bounds] };
    let mut all = Vec::with_capacity(4);
    for (axis, opening) in through.others().into_iter().zip([window.across, window.up]) {
        let i = axis.index();
        let rim = (bounds.max[i] - bounds.min[i] - opening.millimetres()) / 2.0;
        let (mut low, mut high) = (bounds, bounds);
        low.max[i] = bounds.min[i] + rim;
        high.min[i] = bounds.max[i] - rim;
        all.extend([low, high]);
    }
    all
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

    fn is_free(&self, (axis, end): Side, standing: &[&Self]) -> bool {
        let others = standing.iter().filter(|other| !self.passes(other));
        let mut obstacles = others.flat_map(|other| &other.boards);
        obstacles.all(|obstacle| {
            self.boards.iter().all(|board| {
                let mut way = *board;
                match end {
                    End::High => way.max[axis.index()] = f64::INFINITY,
                    End::Low => way.min[axis.index()] = f64::NEG_INFINITY,
                }
                way.apart(obstacle, TOUCH)
            })
        })
    }

    /// Where it meets pieces that stand.
    pub(super) fn joints(&self, standing: &[&Self]) -> Vec<Joint> {
        let mut all = Vec::new();
        for other in standing {
            for face in self.faces() {
                if self.meets(other, face) {
                    all.push(Joint { piece: self.id, face, onto: other.id });
                }
            }
        }
        all
    }

    /// Its faces along the axes; the wide face of a strip is none.
    fn faces(&self) -> impl Iterator<Item = Side> + '_ {
        let sides = Axis::ALL.into_iter().flat_map(|axis| End::BOTH.map(|end| (axis, end)));
        sides.filter(|&(axis, end)| self.edge.is_none_or(|edge| edge.end(axis).is_none_or(|own| own == end)))
    }

    fn meets(&self, other: &Self, (axis, end): Side) -> bool {
        let faced = match end {
            End::High => End::Low,
            End::Low => End::High,
        };
        // Two strips meet in a mitre and hold each other by the walls.
        if matches!((self.edge, other.edge), (Some(_), Some(_)))
            || !other.faces().any(|side| side == (axis, faced))
        {
            return false;
        }
        let i = axis.index();
        let gap = match end {
            End::High => other.bounds.min[i] - self.bounds.max[i],
            End::Low => self.bounds.min[i] - other.bounds.max[i],
        };
        let common = axis.others().map(Axis::index).into_iter().all(|k| {
            self.bounds.max[k].min(other.bounds.max[k]) - self.bounds.min[k].max(other.bounds.min[k]) > CLOSED
        });
        common && (-TOUCH..=CLOSED).contains(&gap)
    }

    /// Whether a panel of the shell lies with its face on the edge of another.
    pub(super) fn covers(&self, other: &Self) -> bool {
        let Some(axis) = self.thick.filter(|axis| other.thick != Some(*axis)) else { return false };
        End::BOTH.iter().any(|&end| self.meets(other, (axis, end)))
    }

    /// Whether it has its place: held in two directions, or by everything it will ever touch.
    pub(super) fn is_held(&self, standing: &[&Self], waiting: &[&Self]) -> bool {
        let joints = self.joints(standing);
        let Some(first) = joints.first() else { return false };
        joints.iter().any(|joint| joint.face.0 != first.face.0) || self.joints(waiting).is_empty()
    }
}
