//! The exact method: a dynamic program over multisets of panel kinds.
//!
//! For every multiset all undominated bounding boxes are kept that edge-to-edge cuts can divide into it, at any number
//! of stages or at 2 or 3; from these follow the multisets a sheet can hold, and from those the cheapest cover.
use super::job::{Grown, Job, Regime};
use super::multiset::Multisets;
use super::stairs::{Bound, How, Named, Stairs, after, beside};
use super::tree::{SheetLayout, tree_of};
use super::{Quality, Solution};
use crate::model::error::ModelError;

/// Most pairs of a multiset and a part of it looked at.
const MOST_PAIRS: usize = 4_000_000;
/// Most pieces of limited stock tried.
const MOST_PIECES: usize = 24;

/// What a cover of a multiset costs: money, then sheets.
type Price = (u64, u32);

/// The sheets tried one after the other: one piece of limited stock, or any number of those one buys.
#[derive(Clone, Debug, Default)]
struct Layer {
    kinds: Vec<usize>,
    unlimited: bool,
    /// Per multiset the cheapest cover with this and the layers before; and the last sheet of it: stock, contents.
    best: Vec<Option<Price>>,
    back: Vec<Option<(usize, usize)>>,
}

/// The exact method at work.
#[derive(Clone, Debug)]
pub struct Exact {
    job: Job,
    grown: Grown,
    sets: Multisets,
    /// Boxes per level and multiset; one level where the stages don't matter.
    levels: Vec<Vec<Stairs>>,
    next: usize,
    layers: Vec<Layer>,
    layer: usize,
}

impl Exact {
    /// Whether a job is within reach.
    #[must_use]
    pub fn reaches(job: &Job) -> bool {
        let grown = Grown::of(job);
        let pieces: usize = job.stock.iter().filter_map(|stock| stock.count).fold(0, usize::saturating_add);
        let layers = 2 + pieces;
        pieces <= MOST_PIECES
            && Multisets::pairs(&grown.counts).is_some_and(|pairs| pairs <= MOST_PAIRS / layers * 2)
    }

    /// Sets a job up, which must be within reach.
    pub(super) fn new(job: &Job) -> Self {
        let grown = Grown::of(job);
        let sets = Multisets::new(&grown.counts);
        let levels = match job.regime {
            Regime::Any => 1,
            Regime::Staged { stages, .. } => usize::from(stages) + 1,
        };
        let mut layers = Vec::new();
        for (kind, stock) in job.stock.iter().enumerate() {
            for _ in 0..stock.count.unwrap_or(0) {
                layers.push(Layer {
                    kinds: vec![kind],
                    unlimited: false,
                    best: Vec::new(),
                    back: Vec::new(),
                });
            }
        }
        let bought: Vec<usize> =
            (0..job.stock.len()).filter(|&kind| job.stock[kind].count.is_none()).collect();
        if !bought.is_empty() {
            layers.push(Layer { kinds: bought, unlimited: true, best: Vec::new(), back: Vec::new() });
        }
        Self {
            job: job.clone(),
            levels: vec![vec![Stairs::default(); sets.len]; levels],
            sets,
            grown,
            next: 1,
            layers,
            layer: 0,
        }
    }

    /// Does about so many elementary steps; whether all is done.
    pub fn advance(&mut self, work: usize) -> bool {
        let mut left = work;
        let mut digits = Vec::new();
        while self.next < self.sets.len {
            self.sets.digits(self.next, &mut digits);
            let cost = 1 + digits.iter().map(|d| d + 1).product::<usize>() * self.levels.len();
            if cost > left && left < work {
                return false;
            }
            self.boxes(self.next, &digits);
            left = left.saturating_sub(cost);
            self.next += 1;
        }
        while self.layer < self.layers.len() {
            if left < work && left < self.sets.len {
                return false;
            }
            left = left.saturating_sub(self.cover_some(left));
        }
        true
    }

    /// Largest sheet along each axis: no box may be wider or longer.
    fn limit(&self) -> [i64; 2] {
        [0, 1].map(|axis| self.grown.sheets.iter().map(|sheet| sheet[axis]).max().unwrap_or(0))
    }

    /// All undominated boxes of one multiset, on every level.
    fn boxes(&mut self, set: usize, digits: &[usize]) {
        let limit = self.limit();
        let area: i128 = digits.iter().enumerate().map(|(kind, &n)| self.grown.area(kind) * n as i128).sum();
        if area > i128::from(limit[0]) * i128::from(limit[1]) {
            return;
        }
        let mut single = Stairs::default();
        if let Some(kind) = (0..digits.len()).find(|&kind| self.sets.single(kind) == set) {
            for (size, turned) in self.grown.ways(kind) {
                if size[0] <= limit[0] && size[1] <= limit[1] {
                    let [width, length] = size;
                    single.insert(Bound { width, length, how: How::Panel { kind, turned } });
                }
            }
        }
        match self.job.regime {
            Regime::Any => {
                let found = self.boxes_any(set, digits, limit, single);
                self.levels[0][set] = found;
            }
            Regime::Staged { stages, across_first } => {
                self.levels[0][set] = single;
                for level in 1..=usize::from(stages) {
                    // The last level's direction is that of the first cuts.
                    let flips = (usize::from(stages) - level) % 2 == 1;
                    let found = self.boxes_staged(set, digits, limit, level, across_first != flips);
                    self.levels[level][set] = found;
                }
            }
        }
    }

    fn boxes_any(&self, set: usize, digits: &[usize], limit: [i64; 2], mut found: Stairs) -> Stairs {
        let table = &self.levels[0];
        self.sets.parts(digits, |part| {
            // A part and what it leaves are the same pair the other way round.
            if 2 * part > set {
                return false;
            }
            let (a, b) = (&table[part], &table[set - part]);
            if !a.is_empty() && !b.is_empty() {
                let a = Named { level: 0, set: part, stairs: a };
                let b = Named { level: 0, set: set - part, stairs: b };
                beside(a, b, limit, &mut found);
                after(a, b, limit, &mut found);
            }
            true
        });
        found
    }

    fn boxes_staged(
        &self,
        set: usize,
        digits: &[usize],
        limit: [i64; 2],
        level: usize,
        lengthwise: bool,
    ) -> Stairs {
        let (below, same) = (&self.levels[level - 1], &self.levels[level]);
        let mut found = Stairs::default();
        found.take(&below[set]);
        self.sets.parts(digits, |part| {
            let (a, b) = (&below[part], &same[set - part]);
            if !a.is_empty() && !b.is_empty() {
                let a = Named { level: level as u8 - 1, set: part, stairs: a };
                let b = Named { level: level as u8, set: set - part, stairs: b };
                if lengthwise {
                    after(a, b, limit, &mut found);
                } else {
                    beside(a, b, limit, &mut found);
                }
            }
            true
        });
        found
    }

    /// The boxes a sheet is judged by.
    fn top(&self) -> &[Stairs] {
        self.levels.last().map_or(&[], Vec::as_slice)
    }

    /// Goes on with the cover of one layer; how much work that was.
    fn cover_some(&mut self, work: usize) -> usize {
        // Taken out of the list meanwhile, so that the ones before can be read.
        let mut layer = std::mem::take(&mut self.layers[self.layer]);
        let before = self.layer.checked_sub(1).map(|at| &self.layers[at]);
        let mut done = 0;
        let mut digits = Vec::new();
        while layer.best.len() < self.sets.len && done <= work {
            let set = layer.best.len();
            self.sets.digits(set, &mut digits);
            done += 1 + digits.iter().map(|d| d + 1).product::<usize>();
            let mut best = match before {
                Some(before) => before.best[set].map(|price| (price, None)),
                None => (set == 0).then_some(((0, 0), None)),
            };
            let mut look = |contents: usize, rest: Option<Price>| {
                let Some(rest) = rest else { return };
                for &kind in &layer.kinds {
                    let price = (rest.0.saturating_add(self.job.stock[kind].cost), rest.1 + 1);
                    if best.is_none_or(|(known, _)| price < known)
                        && self.top()[contents].fit(self.grown.sheets[kind])
                    {
                        best = Some((price, Some((kind, contents))));
                    }
                }
            };
            let rest_of = |rest: usize| match (layer.unlimited, before) {
                (true, _) => layer.best.get(rest).copied().flatten(),
                (false, Some(before)) => before.best[rest],
                (false, None) => (rest == 0).then_some((0, 0)),
            };
            if set > 0 {
                let nothing = if layer.unlimited { Some((0, 0)) } else { rest_of(0) };
                look(set, nothing);
                self.sets.parts(&digits, |part| {
                    look(part, rest_of(set - part));
                    true
                });
            }
            layer.best.push(best.map(|(price, _)| price));
            layer.back.push(best.and_then(|(_, back)| back));
        }
        let complete = layer.best.len() == self.sets.len;
        self.layers[self.layer] = layer;
        self.layer += usize::from(complete);
        done
    }

    /// The layout, once done.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where the stock does not do.
    pub fn solution(&self) -> Result<Solution, ModelError> {
        let all = self.sets.all();
        let cost = self.layers.last().and_then(|layer| layer.best.get(all).copied().flatten());
        let (cost, _) =
            cost.ok_or(ModelError::Impossible { what: "the sheets in stock do not hold all panels" })?;
        let mut chosen = Vec::new();
        let mut set = all;
        let mut at = self.layers.len();
        // The sheet with the offcut first: of all that may be the last one, the one used least along its length.
        if let Some((kind, contents)) = self.last_sheet() {
            chosen.push((kind, contents));
            set -= contents;
        }
        while set > 0 && at > 0 {
            let layer = &self.layers[at - 1];
            match layer.back[set] {
                Some((kind, contents)) => {
                    chosen.push((kind, contents));
                    set -= contents;
                    at -= usize::from(!layer.unlimited);
                }
                None => at -= 1,
            }
        }
        chosen.reverse();
        let mut maker = as_made::Maker::new(&self.levels, &self.grown, &self.job);
        let sheets = chosen.into_iter().filter_map(|(kind, contents)| {
            let bound = self.top()[contents].shortest(self.grown.sheets[kind][0])?;
            SheetLayout::new(&self.job, kind, tree_of(bound.how, &mut maker))
        });
        Ok(Solution { sheets: sheets.collect(), quality: Quality::Proved, cost })
    }

    /// Of the sheets one buys, the one that may be the last of a cheapest cover and is used least.
    fn last_sheet(&self) -> Option<(usize, usize)> {
        let layer = self.layers.last().filter(|layer| layer.unlimited)?;
        let all = self.sets.all();
        let wanted = layer.best.get(all).copied().flatten()?;
        let mut best: Option<(i64, (usize, usize))> = None;
        let mut digits = Vec::new();
        self.sets.digits(all, &mut digits);
        let mut look = |contents: usize| {
            let Some(rest) = (if contents == all { Some((0, 0)) } else { layer.best[all - contents] }) else {
                return true;
            };
            for &kind in &layer.kinds {
                let [width, length] = self.grown.sheets[kind];
                let price = (rest.0.saturating_add(self.job.stock[kind].cost), rest.1 + 1);
                let used = self.top()[contents].shortest(width).map(|bound| bound.length);
                let Some(used) = used.filter(|&used| used <= length && price == wanted) else { continue };
                if best.is_none_or(|(known, _)| used < known) {
                    best = Some((used, (kind, contents)));
                }
            }
            true
        };
        look(all);
        self.sets.parts(&digits, &mut look);
        best.map(|(_, found)| found)
    }
}

/// Boxes back into trees.
pub(super) mod as_made {
    use super::super::job::{Grown, Job};
    use super::super::stairs::{Origin, Stairs};
    use super::super::tree::{Node, tree_of};

    /// Hands out the panels of the job.
    pub(in super::super) struct Maker<'a> {
        levels: &'a [Vec<Stairs>],
        given: Vec<usize>,
        grown: &'a Grown,
        job: &'a Job,
    }

    impl<'a> Maker<'a> {
        pub(in super::super) fn new(levels: &'a [Vec<Stairs>], grown: &'a Grown, job: &'a Job) -> Self {
            Self { levels, given: vec![0; grown.sizes.len()], grown, job }
        }
        /// The next panel of a kind, lying as the kind does.
        pub(in super::super) fn panel(&mut self, kind: usize, turned: bool) -> Node {
            let members = &self.grown.members[kind];
            let panel = members.get(self.given[kind]).or(members.last()).copied().unwrap_or(0);
            self.given[kind] += 1;
            let kerf = self.job.kerf.eighth_micrometres();
            let own = self.job.panels.get(panel);
            // A kind lies with its shorter side along the width; the panel may have been given the other way.
            let as_given =
                own.is_some_and(|p| p.width.eighth_micrometres() + kerf == self.grown.sizes[kind][0]);
            Node::Panel { panel, turned: turned == as_given }
        }
        pub(in super::super) fn node(&mut self, origin: Origin) -> Option<Node> {
            let stairs = self.levels.get(usize::from(origin.level))?.get(origin.set as usize)?;
            let how = stairs.of_width(origin.width)?.how;
            Some(tree_of(how, self))
        }
    }
}
