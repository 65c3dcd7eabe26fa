//! Beyond the exact method's reach: sheets filled by chance, then again and again a few of them emptied and refilled.
//!
//! What comes out is a good layout and never called more; with it goes a lower bound of the number of sheets.
use super::bounds::least_sheets;
use super::exact::as_made::Maker;
use super::fill::{Chance, Filled, Filler};
use super::job::{Grown, Job};
use super::tree::{Node, SheetLayout};
use super::{Quality, Solution};
use crate::model::error::ModelError;

/// A sheet filled.
#[derive(Clone, Debug)]
struct Bin {
    stock: usize,
    filled: Filled,
    counts: Vec<usize>,
    area: f64,
}

/// The search at work.
#[derive(Clone, Debug)]
pub struct Search {
    job: Job,
    grown: Grown,
    bins: Vec<Bin>,
    /// Panels that no limited piece and no sheet took; empty unless the stock does not do.
    homeless: usize,
    weight: Vec<f64>,
    chance: Chance,
    rounds: u32,
    polish: u32,
    least: usize,
    started: bool,
}

/// Fillings tried for a sheet at the start.
const FIRST_TRIES: usize = 30;
/// Fillings tried for a sheet in a round.
const TRIES: usize = 6;

impl Search {
    pub(super) fn new(job: &Job, effort: u32) -> Self {
        let grown = Grown::of(job);
        Self {
            least: least_sheets(&grown),
            weight: vec![1.0; grown.sizes.len()],
            job: job.clone(),
            grown,
            bins: Vec::new(),
            homeless: 0,
            chance: Chance::new(1),
            rounds: effort,
            polish: effort / 4,
            started: false,
        }
    }

    /// Does about so many elementary steps; whether all is done.
    pub fn advance(&mut self, work: usize) -> bool {
        let panels: usize = self.grown.counts.iter().sum();
        let cost = panels * panels * TRIES;
        let mut left = work;
        if !self.started {
            self.start();
            self.started = true;
            left = left.saturating_sub(cost * FIRST_TRIES);
        }
        while self.rounds > 0 && !self.is_done() {
            if left < cost && left < work {
                return false;
            }
            left = left.saturating_sub(cost);
            self.rounds -= 1;
            self.round();
        }
        while self.polish > 0 && self.homeless == 0 {
            if left < cost && left < work {
                return false;
            }
            left = left.saturating_sub(cost);
            self.polish -= 1;
            self.shorten();
        }
        true
    }

    /// Whether no round can win a sheet.
    fn is_done(&self) -> bool {
        self.homeless > 0 || self.bins.len() <= self.least.max(1)
    }

    /// The stock to buy: the cheapest by area first, the larger of equals.
    fn bought(&self) -> Vec<usize> {
        let area = |kind: usize| {
            let [w, h] = self.grown.sheets[kind];
            w as f64 * h as f64
        };
        let mut kinds: Vec<usize> =
            (0..self.job.stock.len()).filter(|&kind| self.job.stock[kind].count.is_none()).collect();
        crate::small::sort_by(&mut kinds, |&a, &b| {
            let price = |kind: usize| self.job.stock[kind].cost as f64 / area(kind);
            price(a).total_cmp(&price(b)).then(area(b).total_cmp(&area(a)))
        });
        kinds
    }

    /// Fills limited pieces first, then as many bought ones as it takes.
    fn start(&mut self) {
        let mut left = self.grown.counts.clone();
        for stock in 0..self.job.stock.len() {
            for _ in 0..self.job.stock[stock].count.unwrap_or(0).min(left.iter().sum()) {
                let bin = self.best_fill(stock, &left, FIRST_TRIES);
                self.accept(bin, &mut left);
            }
        }
        let bought = self.bought();
        while left.iter().sum::<usize>() > 0 {
            let found = bought.iter().find_map(|&stock| self.best_fill(stock, &left, FIRST_TRIES));
            if found.is_none() {
                self.homeless = left.iter().sum();
                return;
            }
            self.accept(found, &mut left);
        }
    }

    fn accept(&mut self, bin: Option<Bin>, left: &mut [usize]) {
        if let Some(bin) = bin {
            left.iter_mut().zip(&bin.counts).for_each(|(left, taken)| *left -= taken);
            self.bins.push(bin);
        }
    }

    /// The best of some fillings of one sheet.
    fn best_fill(&mut self, stock: usize, left: &[usize], tries: usize) -> Option<Bin> {
        let size = self.grown.sheets[stock];
        self.best_of(stock, size, left, tries)
    }

    fn best_of(&mut self, stock: usize, size: [i64; 2], left: &[usize], tries: usize) -> Option<Bin> {
        let mut best: Option<Bin> = None;
        let total: f64 = (0..left.len()).map(|kind| left[kind] as f64 * self.grown.area_f64(kind)).sum();
        for _ in 0..tries {
            let mut filler = Filler {
                grown: &self.grown,
                left: left.to_vec(),
                weight: &self.weight,
                chance: &mut self.chance,
                placed: 0.0,
            };
            let Some(filled) = filler.fill(size) else { break };
            let area = filler.placed;
            let worth = |counts: &[usize]| -> f64 {
                let kinds = counts.iter().zip(&self.weight).enumerate();
                kinds.map(|(kind, (&n, weight))| n as f64 * weight * self.grown.area_f64(kind)).sum()
            };
            let mut counts = vec![0; left.len()];
            filled.count(&mut counts);
            if best.as_ref().is_none_or(|best| worth(&counts) > worth(&best.counts)) {
                best = Some(Bin { stock, filled, counts, area });
            }
            if area >= total - 0.5 {
                break;
            }
        }
        best
    }

    /// Fills the least filled sheet anew on a shorter length, so that its offcut grows.
    fn shorten(&mut self) {
        let weakest = (0..self.bins.len())
            .filter(|&at| self.job.stock[self.bins[at].stock].count.is_none())
            .min_by(|&a, &b| self.bins[a].area.total_cmp(&self.bins[b].area));
        let Some(at) = weakest else {
            self.polish = 0;
            return;
        };
        let (stock, counts) = (self.bins[at].stock, self.bins[at].counts.clone());
        let size = [self.grown.sheets[stock][0], self.bins[at].filled.size(&self.grown)[1] - 1];
        if size[0] as f64 * (size[1] as f64) < self.bins[at].area {
            self.polish = 0;
            return;
        }
        if let Some(bin) = self.best_of(stock, size, &counts, TRIES).filter(|bin| bin.counts == counts) {
            self.bins[at] = bin;
        }
    }

    /// Empties a few sheets of one kind, the least filled among them, and fills them anew; keeps what is better.
    fn round(&mut self) {
        let movable: Vec<usize> =
            (0..self.bins.len()).filter(|&at| self.job.stock[self.bins[at].stock].count.is_none()).collect();
        let Some(&weakest) =
            movable.iter().min_by(|a, b| self.bins[**a].area.total_cmp(&self.bins[**b].area))
        else {
            self.rounds = 0;
            return;
        };
        let wanted = 2 + self.chance.below(4);
        let mut chosen = Vec::new();
        if self.chance.below(4) > 0 {
            chosen.push(weakest);
        }
        for _ in 0..8 {
            let at = movable[self.chance.below(movable.len())];
            if chosen.len() < wanted && !chosen.contains(&at) {
                chosen.push(at);
            }
        }
        self.refill(&chosen);
    }

    fn refill(&mut self, chosen: &[usize]) {
        let mut left = vec![0; self.grown.sizes.len()];
        for &at in chosen {
            left.iter_mut().zip(&self.bins[at].counts).for_each(|(left, n)| *left += n);
        }
        let before: f64 = chosen.iter().map(|&at| self.bins[at].area * self.bins[at].area).sum();
        let Some(stock) = chosen.first().map(|&at| self.bins[at].stock) else { return };
        let mut new: Vec<Bin> = Vec::new();
        while new.len() < chosen.len() && left.iter().sum::<usize>() > 0 {
            let Some(bin) = self.best_fill(stock, &left, TRIES) else { break };
            left.iter_mut().zip(&bin.counts).for_each(|(left, n)| *left -= n);
            new.push(bin);
        }
        let homeless: Vec<usize> = (0..left.len()).filter(|&kind| left[kind] > 0).collect();
        if !homeless.is_empty() {
            // What found no place is worth more next time.
            for kind in homeless {
                self.weight[kind] = (self.weight[kind] * 1.05).min(3.0);
            }
            return;
        }
        if let Some(last) = new.last() {
            for kind in (0..left.len()).filter(|&kind| last.counts[kind] > 0) {
                self.weight[kind] = (self.weight[kind] * 1.02).min(3.0);
            }
        }
        if self.chance.below(16) == 0 {
            self.weight.iter_mut().for_each(|weight| *weight = 1.0 + (*weight - 1.0) * 0.8);
        }
        // Now and then a step back, so that the search gets out of a corner.
        let slack = 0.15 * self.chance.unit().powi(4);
        let after: f64 = new.iter().map(|bin| bin.area * bin.area).sum();
        if new.len() < chosen.len() || after >= before * (1.0 - slack) {
            let mut order = chosen.to_vec();
            order.sort_unstable();
            for at in order.into_iter().rev() {
                self.bins.swap_remove(at);
            }
            self.bins.append(&mut new);
        }
    }

    /// The layout, once done.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where the stock does not do.
    pub fn solution(&self) -> Result<Solution, ModelError> {
        if self.homeless > 0 {
            return Err(ModelError::Impossible { what: "the sheets in stock do not hold all panels" });
        }
        let mut bins: Vec<&Bin> = self.bins.iter().collect();
        crate::small::sort_by(&mut bins, |a, b| b.area.total_cmp(&a.area));
        let mut maker = Maker::new(&[], &self.grown, &self.job);
        let sheets = bins
            .iter()
            .filter_map(|bin| SheetLayout::new(&self.job, bin.stock, node(&bin.filled, &mut maker)));
        let cost = bins.iter().map(|bin| self.job.stock[bin.stock].cost).fold(0, u64::saturating_add);
        let quality = Quality::Found { least_sheets: self.least };
        Ok(Solution { sheets: sheets.collect(), quality, cost })
    }
}

fn node(filled: &Filled, maker: &mut Maker<'_>) -> Node {
    let mut all = |parts: &[Filled]| parts.iter().map(|part| node(part, maker)).collect();
    match filled {
        Filled::Panel { kind, turned } => maker.panel(*kind, *turned),
        Filled::Beside(parts) => Node::join(true, all(parts)),
        Filled::After(parts) => Node::join(false, all(parts)),
    }
}
