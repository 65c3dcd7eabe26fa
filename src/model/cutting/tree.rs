//! A sheet as a tree of cuts: the places of its panels, its numbered cuts, what is left over.
use super::exact::as_made;
use super::job::Job;
use super::stairs::How;
use crate::units::ExactLength;

/// A piece of a sheet and how it is divided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Node {
    /// One panel.
    Panel {
        /// Its place in the job.
        panel: usize,
        /// Whether its width lies along the sheet's length.
        turned: bool,
    },
    /// Pieces beside each other along the sheet's width.
    Beside(Vec<Node>),
    /// Pieces one after the other along the sheet's length.
    After(Vec<Node>),
}

/// Which way a cut runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutWay {
    /// Across the sheet: along its width.
    Across,
    /// Along the sheet's length.
    Along,
}

/// A panel in its place, from the sheet's corner: along the width, along the length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Its place in the job.
    pub panel: usize,
    /// The corner nearest to the sheet's.
    pub at: [ExactLength; 2],
    /// Width and length as it lies.
    pub size: [ExactLength; 2],
    /// Whether it is turned against the job.
    pub turned: bool,
}

/// A rectangle of the sheet: corner and size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Region {
    /// The corner nearest to the sheet's.
    pub at: [ExactLength; 2],
    /// Along the width, along the length.
    pub size: [ExactLength; 2],
}

/// One cut, from edge to edge of the piece it divides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Which way it runs.
    pub way: CutWay,
    /// The piece it divides.
    pub piece: Region,
    /// Where the kept side ends: the blade takes its kerf behind that. From the sheet's corner.
    pub position: ExactLength,
    /// What the fence is set to: the size of the kept side.
    pub fence: ExactLength,
    /// How often the direction has changed before: 0 for the first cuts.
    pub stage: u8,
    /// Panels that are done with this cut.
    pub frees: Vec<usize>,
    /// Whether it only takes off what is not needed.
    pub trims: bool,
}

/// A sheet laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetLayout {
    /// The kind of stock.
    pub stock: usize,
    /// Its size.
    pub sheet: [ExactLength; 2],
    /// The tree.
    pub root: Node,
    /// Used width and length, trim left out.
    pub used: [ExactLength; 2],
    /// The panels.
    pub placed: Vec<Placed>,
    /// The cuts in order.
    pub cuts: Vec<Cut>,
    /// What is left over, without the slivers no blade can follow.
    pub offcuts: Vec<Region>,
}

impl Node {
    /// Pieces in a row along one direction; such rows in a row are one row.
    pub(super) fn join(along_width: bool, parts: Vec<Self>) -> Self {
        let mut flat = Vec::new();
        for part in parts {
            match (along_width, part) {
                (true, Self::Beside(inner)) | (false, Self::After(inner)) => flat.extend(inner),
                (_, part) => flat.push(part),
            }
        }
        match (flat.len(), along_width) {
            (1, _) => flat.swap_remove(0),
            (_, true) => Self::Beside(flat),
            (_, false) => Self::After(flat),
        }
    }
    /// Width and length of what it holds, kerfs between included.
    #[must_use]
    pub fn size(&self, job: &Job) -> [ExactLength; 2] {
        match self {
            Self::Panel { panel, turned } => {
                let size = job.panels.get(*panel).map_or([ExactLength::ZERO; 2], |p| [p.width, p.length]);
                if *turned { [size[1], size[0]] } else { size }
            }
            Self::Beside(parts) => run(job, parts, 0),
            Self::After(parts) => run(job, parts, 1),
        }
    }
    /// How often the direction of the cuts changes below, trimming left out.
    #[must_use]
    pub fn stages(&self) -> usize {
        match self {
            Self::Panel { .. } => 0,
            Self::Beside(parts) | Self::After(parts) => 1 + parts.iter().map(Self::stages).max().unwrap_or(0),
        }
    }
}

/// Size of pieces in a row along an axis.
fn run(job: &Job, parts: &[Node], axis: usize) -> [ExactLength; 2] {
    let mut size = [ExactLength::ZERO; 2];
    for part in parts {
        let one = part.size(job);
        size[axis] = size[axis] + one[axis] + job.kerf;
        size[1 - axis] = size[1 - axis].max(one[1 - axis]);
    }
    size[axis] = (size[axis] - job.kerf).max(ExactLength::ZERO);
    size
}

impl SheetLayout {
    /// Places and cuts of a tree on a sheet of a kind of stock; `None` where there is no such kind.
    pub(super) fn new(job: &Job, stock: usize, root: Node) -> Option<Self> {
        let sheet = job.stock.get(stock)?;
        let usable = Region { at: [job.trim; 2], size: job.usable(sheet) };
        let mut layout = Self {
            stock,
            sheet: [sheet.width, sheet.length],
            used: root.size(job),
            placed: Vec::new(),
            cuts: Vec::new(),
            offcuts: Vec::new(),
            root: Node::Beside(Vec::new()),
        };
        if job.trim > ExactLength::ZERO {
            layout.trim_edges(job, sheet.width, sheet.length);
        }
        layout.divide(job, &root, usable, 0, true);
        layout.root = root;
        Some(layout)
    }

    /// The cuts that take the edges off: both long ones, then both short ones.
    fn trim_edges(&mut self, job: &Job, width: ExactLength, length: ExactLength) {
        let mut piece = Region { at: [ExactLength::ZERO; 2], size: [width, length] };
        for axis in [0, 1] {
            for far in [false, true] {
                let kept = piece.size[axis] - job.trim;
                let position = if far { piece.at[axis] + kept } else { job.trim };
                self.cuts.push(Cut {
                    way: if axis == 0 { CutWay::Along } else { CutWay::Across },
                    piece,
                    position,
                    fence: kept,
                    stage: 0,
                    frees: Vec::new(),
                    trims: true,
                });
                piece.size[axis] = kept;
                if !far {
                    piece.at[axis] = job.trim;
                }
            }
        }
    }

    /// Divides a piece of the sheet until every panel of the node is by itself.
    fn divide(&mut self, job: &Job, node: &Node, mut piece: Region, stage: u8, root: bool) {
        let size = node.size(job);
        let (axis, parts) = match node {
            Node::Panel { panel, turned } => {
                for axis in if root { [1, 0] } else { [0, 1] } {
                    self.part_off(job, &mut piece, axis, size[axis], stage, true);
                }
                self.placed.push(Placed { panel: *panel, at: piece.at, size, turned: *turned });
                return self.free(*panel, job.kerf);
            }
            Node::Beside(parts) => (0, parts),
            Node::After(parts) => (1, parts),
        };
        // What no part of the row reaches comes off in one piece; of a whole sheet first the length that is left.
        if root && axis == 1 {
            self.part_off(job, &mut piece, 1, size[1], stage, true);
        } else {
            self.part_off(job, &mut piece, 1 - axis, size[1 - axis], stage, true);
        }
        let mut pieces = Vec::new();
        for (number, part) in parts.iter().enumerate() {
            let wanted = part.size(job)[axis];
            let mut own = piece;
            own.size[axis] = wanted.min(piece.size[axis]);
            pieces.push(own);
            let last = number + 1 == parts.len();
            if last && piece.size[axis] == wanted {
                break;
            }
            let before = piece;
            self.part_off(job, &mut piece, axis, wanted, stage, last);
            let taken = wanted + job.kerf;
            piece = before;
            piece.at[axis] = before.at[axis] + taken;
            piece.size[axis] = before.size[axis] - taken;
        }
        for (part, own) in parts.iter().zip(pieces) {
            self.divide(job, part, own, stage.saturating_add(1), false);
        }
    }

    /// Cuts a piece down to a size along an axis, if it is longer; the rest of a trimming cut is an offcut.
    fn part_off(
        &mut self,
        job: &Job,
        piece: &mut Region,
        axis: usize,
        wanted: ExactLength,
        stage: u8,
        trims: bool,
    ) {
        if piece.size[axis] <= wanted {
            return;
        }
        let position = piece.at[axis] + wanted;
        let way = if axis == 0 { CutWay::Along } else { CutWay::Across };
        self.cuts.push(Cut { way, piece: *piece, position, fence: wanted, stage, frees: Vec::new(), trims });
        let left = piece.size[axis] - wanted - job.kerf;
        if trims && left > ExactLength::ZERO {
            let mut rest = *piece;
            rest.at[axis] = position + job.kerf;
            rest.size[axis] = left;
            self.offcuts.push(rest);
        }
        piece.size[axis] = wanted;
    }

    /// Notes the cut with which the panel placed last came free: the last one along one of its sides.
    fn free(&mut self, panel: usize, kerf: ExactLength) {
        let Some(placed) = self.placed.last().copied() else { return };
        let bounds = |cut: &Cut| {
            let axis = usize::from(cut.way == CutWay::Across);
            let other = 1 - axis;
            let beside = cut.piece.at[other] <= placed.at[other]
                && placed.at[other] < cut.piece.at[other] + cut.piece.size[other];
            beside
                && (cut.position == placed.at[axis] + placed.size[axis]
                    || cut.position + kerf == placed.at[axis])
        };
        if let Some(cut) = self.cuts.iter_mut().rev().find(|cut| bounds(cut)) {
            cut.frees.push(panel);
        }
    }
}

/// The tree of a box of the exact method.
pub(super) fn tree_of(how: How, made: &mut as_made::Maker<'_>) -> Node {
    match how {
        How::Panel { kind, turned } => made.panel(kind, turned),
        How::Beside(parts) => {
            let nodes = parts.into_iter().filter_map(|part| made.node(part)).collect();
            Node::join(true, nodes)
        }
        How::After(parts) => {
            let nodes = parts.into_iter().filter_map(|part| made.node(part)).collect();
            Node::join(false, nodes)
        }
    }
}
