//! Fills one rectangle with as much as chance and a knapsack find, by edge-to-edge cuts.
//!
//! A panel is drawn, a row as high as it is filled up by a knapsack over what is left, the rests above the row's panels
//! and the rest of the rectangle are filled the same way.
use super::job::Grown;

/// Numbers that look random and are the same every time.
#[derive(Clone, Debug)]
pub(super) struct Chance(u64);

impl Chance {
    pub(super) const fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }
    /// The next number (xorshift).
    pub(super) const fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }
    /// At least 0, below 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
    /// Below `end`, which must not be zero.
    pub(super) const fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }
}

/// A filled piece, by kinds.
#[derive(Clone, Debug)]
pub(super) enum Filled {
    /// A panel of a kind.
    Panel { kind: usize, turned: bool },
    /// Beside each other, along the width.
    Beside(Vec<Filled>),
    /// One after the other, along the length.
    After(Vec<Filled>),
}

/// What a filling may use.
pub(super) struct Filler<'a> {
    pub(super) grown: &'a Grown,
    /// How many of each kind are left.
    pub(super) left: Vec<usize>,
    /// What a kind is worth beyond its area: above 1 for those that were hard to place.
    pub(super) weight: &'a [f64],
    pub(super) chance: &'a mut Chance,
    /// Area placed.
    pub(super) placed: f64,
}

/// A panel of a kind in one of its ways.
#[derive(Clone, Copy)]
struct Way {
    kind: usize,
    turned: bool,
    size: [i64; 2],
}

/// A state of the knapsack: length taken, worth, the state before and the way added.
#[derive(Clone, Copy)]
struct State {
    taken: i64,
    worth: f64,
    before: u32,
    way: u32,
}

/// Most states of a knapsack.
const MOST_STATES: usize = 160;

impl Filler<'_> {
    /// Fills a rectangle; `None` where nothing fits.
    pub(super) fn fill(&mut self, size: [i64; 2]) -> Option<Filled> {
        let seed = self.draw(size)?;
        self.take(seed.kind);
        // A row along the width is as high as the drawn panel is long, a column as wide as it is wide.
        let both = [0, 1].map(|axis| self.knapsack(seed, axis, size));
        let density = |axis: usize| {
            let (_, worth) = &both[axis];
            let area = size[axis] as f64 * seed.size[1 - axis] as f64;
            (worth + self.worth(seed.kind), area)
        };
        let [(a, a_area), (b, b_area)] = [density(0), density(1)];
        let noise = 0.9 + 0.2 * self.chance.unit();
        let axis = usize::from(a / a_area * noise < b / b_area);
        let [row, column] = both;
        let others = if axis == 0 { row.0 } else { column.0 };
        Some(self.row(seed, others, axis, size))
    }

    /// Lays a row along `axis`, and fills what it leaves.
    fn row(&mut self, seed: Way, others: Vec<Way>, axis: usize, size: [i64; 2]) -> Filled {
        let high = seed.size[1 - axis];
        for way in &others {
            self.take(way.kind);
        }
        let mut rest = size[axis];
        let mut parts = Vec::new();
        for way in std::iter::once(seed).chain(others) {
            rest -= way.size[axis];
            let panel = Filled::Panel { kind: way.kind, turned: way.turned };
            let above = self.fill(shape(axis, way.size[axis], high - way.size[1 - axis]));
            parts.push(join(1 - axis, std::iter::once(panel).chain(above).collect()));
        }
        parts.extend(self.fill(shape(axis, rest, high)));
        let row = join(axis, parts);
        let beyond = self.fill(shape(axis, size[axis], size[1 - axis] - high));
        join(1 - axis, std::iter::once(row).chain(beyond).collect())
    }

    fn take(&mut self, kind: usize) {
        self.left[kind] -= 1;
        self.placed += self.grown.area_f64(kind);
    }
    fn worth(&self, kind: usize) -> f64 {
        self.grown.area_f64(kind) * self.weight[kind]
    }

    /// Draws a panel that fits: mostly a large one, or one that fills a side.
    fn draw(&mut self, size: [i64; 2]) -> Option<Way> {
        let mut best: Option<(f64, Way)> = None;
        for kind in (0..self.left.len()).filter(|&kind| self.left[kind] > 0) {
            let noise = 0.55 + 0.45 * self.chance.unit();
            for (way, turned) in self.grown.ways(kind) {
                if way[0] > size[0] || way[1] > size[1] {
                    continue;
                }
                let fills = usize::from(way[0] == size[0]) + usize::from(way[1] == size[1]);
                let turn = if turned { 0.9 + 0.2 * self.chance.unit() } else { 1.0 };
                let score = self.worth(kind) * noise * turn * (1.0 + 0.3 * fills as f64);
                if best.is_none_or(|(known, _)| score > known) {
                    best = Some((score, Way { kind, turned, size: way }));
                }
            }
        }
        best.map(|(_, way)| way)
    }

    /// The most valuable row beside the drawn panel: no panel higher than it, all together no longer than the rest.
    fn knapsack(&mut self, seed: Way, axis: usize, size: [i64; 2]) -> (Vec<Way>, f64) {
        let room = size[axis] - seed.size[axis];
        let high = seed.size[1 - axis];
        let ways = self.row_ways(axis, room, high);
        let mut states = vec![State { taken: 0, worth: 0.0, before: 0, way: u32::MAX }];
        let mut front: Vec<u32> = vec![0];
        for (number, (way, copies)) in ways.iter().enumerate() {
            let worth = self.worth(way.kind) * (0.97 + 0.06 * self.chance.unit());
            for _ in 0..*copies {
                let added = extend(&mut states, &front, *way, number as u32, worth, room, axis);
                if added.is_empty() {
                    break;
                }
                front = merge(&states, &front, &added);
            }
        }
        let best =
            front.iter().max_by(|a, b| states[**a as usize].worth.total_cmp(&states[**b as usize].worth));
        let mut at = best.copied().unwrap_or(0);
        let mut chosen = Vec::new();
        let mut worth = 0.0;
        while let Some((way, _)) = ways.get(states[at as usize].way as usize) {
            chosen.push(*way);
            worth += self.worth(way.kind);
            at = states[at as usize].before;
        }
        (chosen, worth)
    }

    /// What may stand in a row, each kind in the higher of its ways that fit, and how many of it.
    fn row_ways(&self, axis: usize, room: i64, high: i64) -> Vec<(Way, usize)> {
        let mut ways = Vec::new();
        for kind in (0..self.left.len()).filter(|&kind| self.left[kind] > 0) {
            let fits = self.grown.ways(kind).filter(|(way, _)| way[1 - axis] <= high && way[axis] <= room);
            if let Some((size, turned)) = fits.max_by_key(|(way, _)| way[1 - axis]) {
                let copies = self.left[kind].min((room / size[axis].max(1)) as usize);
                ways.push((Way { kind, turned, size }, copies));
            }
        }
        ways
    }
}

/// Adds one more of a panel to every state that ends before it or with it.
fn extend(
    states: &mut Vec<State>,
    front: &[u32],
    way: Way,
    number: u32,
    worth: f64,
    room: i64,
    axis: usize,
) -> Vec<u32> {
    let mut added = Vec::new();
    for &at in front {
        let state = states[at as usize];
        let taken = state.taken + way.size[axis];
        if taken <= room {
            added.push(states.len() as u32);
            states.push(State { taken, worth: state.worth + worth, before: at, way: number });
        }
    }
    added
}

/// Both lists by rising length taken, without states that take more and are worth no more, and not too many.
fn merge(states: &[State], a: &[u32], b: &[u32]) -> Vec<u32> {
    let mut merged: Vec<u32> = Vec::with_capacity(a.len() + b.len());
    let (mut i, mut j) = (0, 0);
    while i < a.len() || j < b.len() {
        let take_a = match (a.get(i), b.get(j)) {
            (Some(x), Some(y)) => {
                let (x, y) = (&states[*x as usize], &states[*y as usize]);
                x.taken < y.taken || x.taken == y.taken && x.worth >= y.worth
            }
            (one, _) => one.is_some(),
        };
        let next = if take_a { a[i] } else { b[j] };
        i += usize::from(take_a);
        j += usize::from(!take_a);
        if merged.last().is_none_or(|&last| states[next as usize].worth > states[last as usize].worth) {
            merged.push(next);
        }
    }
    if merged.len() > MOST_STATES {
        let len = merged.len();
        merged = (0..MOST_STATES).map(|n| merged[n * (len - 1) / (MOST_STATES - 1)]).collect();
    }
    merged
}

/// A size whose side along `axis` is `along`.
const fn shape(axis: usize, along: i64, across: i64) -> [i64; 2] {
    if axis == 0 { [along, across] } else { [across, along] }
}

fn join(axis: usize, mut parts: Vec<Filled>) -> Filled {
    match (parts.len(), axis) {
        (1, _) => parts.swap_remove(0),
        (_, 0) => Filled::Beside(parts),
        _ => Filled::After(parts),
    }
}

impl Filled {
    /// Adds the kinds it holds to a count.
    pub(super) fn count(&self, into: &mut [usize]) {
        match self {
            Self::Panel { kind, .. } => into[*kind] += 1,
            Self::Beside(parts) | Self::After(parts) => parts.iter().for_each(|part| part.count(into)),
        }
    }
    /// Width and length it takes.
    pub(super) fn size(&self, grown: &Grown) -> [i64; 2] {
        let run = |parts: &[Self], axis: usize| {
            parts.iter().map(|part| part.size(grown)).fold([0, 0], |sum, one| {
                let mut next = sum;
                next[axis] += one[axis];
                next[1 - axis] = next[1 - axis].max(one[1 - axis]);
                next
            })
        };
        match self {
            Self::Panel { kind, turned } => {
                let [w, h] = grown.sizes[*kind];
                if *turned { [h, w] } else { [w, h] }
            }
            Self::Beside(parts) => run(parts, 0),
            Self::After(parts) => run(parts, 1),
        }
    }
}
