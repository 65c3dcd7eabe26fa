//! What is to be cut, and from what.
use crate::model::error::ModelError;
use crate::units::ExactLength;

/// Equal panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PanelKind {
    /// Along the sheet's width, as long as it isn't turned.
    pub width: ExactLength,
    /// Along the sheet's length.
    pub length: ExactLength,
    /// How many.
    pub count: usize,
    /// Whether it may be turned by 90 degrees: not where the grain forbids.
    pub may_turn: bool,
}

/// Equal sheets or offcuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Width.
    pub width: ExactLength,
    /// Length; the grain runs along it.
    pub length: ExactLength,
    /// How many there are; `None` for as many as one buys.
    pub count: Option<usize>,
    /// What one costs, in hundredths.
    pub cost: u64,
}

/// How often the direction of the cuts may change.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Regime {
    /// Any number of turns.
    #[default]
    Any,
    /// At most so many stages, then trimming.
    Staged {
        /// 2 or 3.
        stages: u8,
        /// Whether the first cuts run across the width; otherwise along the length.
        across_first: bool,
    },
}

/// A job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// The panels.
    pub panels: Vec<PanelKind>,
    /// The stock. Offcuts first, if cost is equal, as the first is taken.
    pub stock: Vec<Stock>,
    /// Width of the saw cut.
    pub kerf: ExactLength,
    /// Taken off each edge of every sheet first.
    pub trim: ExactLength,
    /// Turns of the cuts.
    pub regime: Regime,
}

/// Most panels of a job.
pub const MOST_PANELS: usize = 400;
/// Most kinds of stock.
pub const MOST_STOCK: usize = 12;
/// Longest side of a sheet: 100 m, so that sums stay exact.
const LONGEST: i64 = 800_000_000;

impl Job {
    /// Whether the job can be looked at.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] for no or too many panels or sheets, sizes that are no sizes, and panels that no sheet
    /// holds.
    pub fn check(&self) -> Result<(), ModelError> {
        let refuse = |what| Err(ModelError::Impossible { what });
        let count: usize = self.panels.iter().fold(0, |sum, panel| sum.saturating_add(panel.count));
        if count == 0 || count > MOST_PANELS {
            return refuse("a layout takes 1 to 400 panels");
        }
        if self.stock.is_empty() || self.stock.len() > MOST_STOCK {
            return refuse("a layout takes 1 to 12 kinds of sheets");
        }
        let sane = |size: ExactLength| (1..=LONGEST).contains(&size.eighth_micrometres());
        let panels = self.panels.iter().all(|panel| sane(panel.width) && sane(panel.length));
        let stock = self.stock.iter().all(|sheet| sane(sheet.width) && sane(sheet.length));
        let small = |size: ExactLength| (0..=LONGEST).contains(&size.eighth_micrometres());
        if !panels || !stock || !small(self.kerf) || !small(self.trim) {
            return refuse("a panel, a sheet, the kerf or the trim has no possible size");
        }
        if self.panels.iter().any(|panel| !self.stock.iter().any(|sheet| self.holds(sheet, panel))) {
            return refuse("a panel is larger than every sheet in stock");
        }
        Ok(())
    }

    /// Whether a sheet holds a panel.
    fn holds(&self, sheet: &Stock, panel: &PanelKind) -> bool {
        let [width, length] = self.usable(sheet);
        let [w, h] = [panel.width, panel.length];
        w <= width && h <= length || panel.may_turn && h <= width && w <= length
    }

    /// Width and length of a sheet once its edges are trimmed.
    #[must_use]
    pub fn usable(&self, sheet: &Stock) -> [ExactLength; 2] {
        [sheet.width - self.trim * 2, sheet.length - self.trim * 2]
    }
}

/// The same in counts, grown by the kerf: what the methods calculate with.
#[derive(Clone, Debug)]
pub(super) struct Grown {
    /// Panels of equal size as one kind: width, length.
    pub(super) sizes: Vec<[i64; 2]>,
    /// How many of each.
    pub(super) counts: Vec<usize>,
    /// Whether each may be turned, squares aside.
    pub(super) may_turn: Vec<bool>,
    /// The panels of the job that make up each kind.
    pub(super) members: Vec<Vec<usize>>,
    /// Width and length of each kind of stock.
    pub(super) sheets: Vec<[i64; 2]>,
}

impl Grown {
    pub(super) fn of(job: &Job) -> Self {
        let kerf = job.kerf.eighth_micrometres();
        let mut grown = Self {
            sizes: Vec::new(),
            counts: Vec::new(),
            may_turn: Vec::new(),
            members: Vec::new(),
            sheets: Vec::new(),
        };
        for (index, panel) in job.panels.iter().enumerate().filter(|(_, panel)| panel.count > 0) {
            let mut size = [panel.width, panel.length].map(|side| side.eighth_micrometres() + kerf);
            if panel.may_turn && size[0] > size[1] {
                size.reverse();
            }
            let may_turn = panel.may_turn && size[0] != size[1];
            let same = (0..grown.sizes.len())
                .find(|&kind| grown.sizes[kind] == size && grown.may_turn[kind] == may_turn);
            let kind = same.unwrap_or_else(|| {
                grown.sizes.push(size);
                grown.counts.push(0);
                grown.may_turn.push(may_turn);
                grown.members.push(Vec::new());
                grown.sizes.len() - 1
            });
            grown.counts[kind] += panel.count;
            for _ in 0..panel.count {
                grown.members[kind].push(index);
            }
        }
        for sheet in &job.stock {
            grown.sheets.push(job.usable(sheet).map(|side| side.eighth_micrometres() + kerf));
        }
        grown
    }
    /// Area of one panel of a kind.
    pub(super) fn area(&self, kind: usize) -> i128 {
        i128::from(self.sizes[kind][0]) * i128::from(self.sizes[kind][1])
    }
    /// The same, where it is weighed rather than counted.
    pub(super) fn area_f64(&self, kind: usize) -> f64 {
        self.sizes[kind][0] as f64 * self.sizes[kind][1] as f64
    }
    /// The ways a panel may lie: its size, and whether that is turned.
    pub(super) fn ways(&self, kind: usize) -> impl Iterator<Item = ([i64; 2], bool)> {
        let [w, h] = self.sizes[kind];
        let turned = self.may_turn[kind];
        std::iter::once(([w, h], false)).chain(turned.then_some(([h, w], true)))
    }
}
