//! The order at the saw: every part that shares a size is cut before the fence moves.
use super::edges::Owners;
use super::parts::{self, Bevel, Dimension, MeasuredFace, Part, PartId, PartName, Stock, Tilt};
use super::sizes::Sizes;
use super::spec::{BoxSpec, Precedence};
use crate::small::sort_by;
use crate::units::ExactLength;

/// One setting of fence and blade, and everything cut with it.
#[derive(Clone, Debug, PartialEq)]
pub struct FenceSetting {
    /// Fence distance: the size as cut, on the face it is measured on.
    pub size: ExactLength,
    /// Tilt of the blade from square.
    pub tilt: Tilt,
    /// The face the size is measured on.
    pub measured_on: MeasuredFace,
    /// Whether the cut ends get mitred into neighbours afterwards.
    pub mitred: bool,
    /// Number of the board it is cut from, [`super::Board::number`].
    pub board: u8,
    /// What is cut with it.
    pub cuts: Vec<FenceCut>,
}

/// Pieces of one line of the cut list, cut to one of their sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct FenceCut {
    /// The line's name.
    pub name: PartName,
    /// Its pieces.
    pub pieces: Vec<PartId>,
    /// Which size is cut.
    pub dimension: Dimension,
    /// How long an edge rides along the fence: the piece's other size. Of a first cut it is the strip's, which is longer.
    pub riding: ExactLength,
    /// The end that is bevelled; `None` for a square cut.
    pub bevel: Option<Bevel>,
}

/// What a cut asks for beyond the fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CutCare {
    /// Wider than the saw's fence reaches: a guided hand saw, or measured from the other edge.
    BeyondReach,
    /// The edge on the fence is too short to guide the piece: a sled or a carrier board, not the fence alone.
    ShortRide,
    /// The piece between blade and fence is narrow: push block, and the wide part of the stock between them where it goes.
    Narrow,
    /// The blade of most saws leans to 45° only: the stock stands upright against a tall fence, the blade at the rest to 90°.
    Steep,
}

/// What the saw can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saw {
    /// Largest fence distance.
    pub reach: ExactLength,
    /// Shortest edge that may ride on the fence.
    pub least_ride: ExactLength,
}

/// Fence distance below which a hand does not go past the blade: 75 mm (common practice, no source).
pub const NARROW: ExactLength = ExactLength::from_hundredths_mm(7_500);

impl FenceSetting {
    /// What the setting's cuts ask for on a saw, each once.
    ///
    /// A piece rides on the edge that the cut doesn't change. As every piece is cut to its longer size first and that
    /// from a strip that is longer still, no crosscut rides on a short edge unless the piece itself is short.
    #[must_use]
    pub fn cares(&self, saw: Saw) -> Vec<CutCare> {
        let mut cares = Vec::new();
        if self.size > saw.reach {
            cares.push(CutCare::BeyondReach);
        }
        if self.cuts.iter().any(|cut| cut.riding < saw.least_ride) {
            cares.push(CutCare::ShortRide);
        }
        if self.size < NARROW {
            cares.push(CutCare::Narrow);
        }
        if self.tilt > Tilt::HALF_RIGHT {
            cares.push(CutCare::Steep);
        }
        cares
    }

    /// What the fence is set to at the table for a bevelled edge: blade leaning away from the fence and the wide face, or
    /// the long point, up, the cut at the table is one thickness times tan of the tilt short of it. Both ends of a board
    /// are cut so, in whichever order: the first one against its square blank, the second against the outermost arris of
    /// the first, which stands at the same place.
    #[must_use]
    pub fn at_table(&self, thickness: ExactLength) -> ExactLength {
        if self.measured_on != MeasuredFace::Either && self.tilt != Tilt::SQUARE {
            let lean = thickness.millimetres() * self.tilt.degrees().to_radians().tan();
            self.size - ExactLength::from_millimetres(lean)
        } else {
            self.size
        }
    }
}

/// Groups the cuts of all board parts by fence distance and tilt; tubes aren't cut at the fence.
///
/// Square cuts come first, longer ones before shorter: a panel is then first cut to its length and last to its width,
/// so that the edge that rides on the fence in the last cut is its longer one (no crosscut riding on a short edge:
/// common practice, no source). Tilted cuts come last, in the order of their tilt. The same number on a tilted edge is
/// a different setting (geometry.md section 10). Boards of two kinds share none either: the blade's height changes with the
/// thickness; the same size in both follows at once, so that the fence stays.
#[must_use]
pub fn order(parts: &[Part]) -> Vec<FenceSetting> {
    let mut settings: Vec<FenceSetting> = Vec::new();
    for part in parts.iter().filter(|part| part.stock == Stock::Board) {
        for cut in part.cuts() {
            let riding = if cut == part.length {
                part.length.planned
            } else {
                part.length.planned.max(part.width.planned)
            };
            let done = FenceCut {
                name: part.name,
                pieces: part.pieces.clone(),
                dimension: cut.dimension,
                riding,
                bevel: None,
            };
            // Blanks of bevelled boards are cut square first.
            let measured_on = if cut.tilt == Tilt::SQUARE { MeasuredFace::Either } else { cut.measured_on };
            let setting = FenceSetting {
                size: cut.planned,
                tilt: cut.tilt,
                measured_on,
                mitred: cut.mitred,
                board: part.board,
                cuts: vec![done],
            };
            add(&mut settings, setting);
        }
        if !part.bevels.is_empty() {
            bevelled(part, &mut settings);
        }
    }
    // No two settings are alike in all of them.
    let key = |s: &FenceSetting| (s.tilt, s.mitred, -s.size, s.measured_on, s.board);
    sort_by(&mut settings, |a, b| key(a).cmp(&key(b)));
    settings
}

/// Adds a setting, or its cuts to one that is alike.
fn add(settings: &mut Vec<FenceSetting>, setting: FenceSetting) {
    let same = settings.iter_mut().find(|s| {
        s.size == setting.size
            && s.tilt == setting.tilt
            && s.measured_on == setting.measured_on
            && s.mitred == setting.mitred
            && s.board == setting.board
    });
    match same {
        Some(same) => same.cuts.extend(setting.cuts),
        None => settings.push(setting),
    }
}

/// The bevelled ends of a part, after its blank is cut square.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn bevelled(part: &Part, settings: &mut Vec<FenceSetting>) {
    let along = part.cuts().into_iter().find(|cut| cut.measured_on == MeasuredFace::LongPoints);
    let Some(along) = along else { return };
    let riding = if along == part.length { part.width.planned } else { part.length.planned };
    for &bevel in &part.bevels {
        let done = FenceCut {
            name: part.name,
            pieces: part.pieces.clone(),
            dimension: along.dimension,
            riding,
            bevel: Some(bevel),
        };
        let setting = FenceSetting {
            size: along.planned,
            tilt: bevel.tilt,
            measured_on: MeasuredFace::LongPoints,
            mitred: false,
            board: part.board,
            cuts: vec![done],
        };
        add(settings, setting);
    }
}

/// How many settings each order of who covers whom needs, in the order of [`Precedence::ALL`]; orders in which the box
/// can't be built are left out. The inside is the same in all of them (geometry.md section 1), so this may decide.
#[must_use]
pub fn settings_by_precedence(spec: &BoxSpec) -> Vec<(Precedence, usize)> {
    let count = |precedence| {
        let tried = BoxSpec { owners: Owners::by(precedence), ..spec.clone() };
        let exact = Sizes::exact(&tried).ok()?;
        let planned = Sizes::planned(&tried).ok()?;
        let parts = parts::cut_list(&tried, &exact, &planned);
        Some((precedence, order(&parts).len()))
    };
    Precedence::ALL.into_iter().filter_map(count).collect()
}
