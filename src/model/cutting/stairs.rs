//! Undominated bounding boxes of one multiset of panels: wider ones are lower.

/// How a box is put together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum How {
    /// One panel.
    Panel {
        /// Its kind.
        kind: usize,
        /// Whether it is turned.
        turned: bool,
    },
    /// Two boxes beside each other along the width.
    Beside([Origin; 2]),
    /// One box after the other along the length.
    After([Origin; 2]),
}

/// A box of another multiset.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Origin {
    /// The level it stands at; 0 where there is one level only.
    pub(super) level: u8,
    /// The multiset.
    pub(super) set: u32,
    /// Its width, which names it among the boxes of the multiset: boxes may be put in before it, not of its width.
    pub(super) width: i64,
}

/// A box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Bound {
    pub(super) width: i64,
    pub(super) length: i64,
    pub(super) how: How,
}

/// Boxes by rising width and falling length.
#[derive(Clone, Debug, Default)]
pub(super) struct Stairs(Vec<Bound>);

impl Stairs {
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// The box of a width.
    pub(super) fn of_width(&self, width: i64) -> Option<&Bound> {
        self.0.binary_search_by(|bound| bound.width.cmp(&width)).ok().map(|at| &self.0[at])
    }
    /// The shortest box that is at most so wide.
    pub(super) fn shortest(&self, width: i64) -> Option<&Bound> {
        let after = self.0.partition_point(|bound| bound.width <= width);
        after.checked_sub(1).map(|at| &self.0[at])
    }
    /// Whether some box fits a sheet.
    pub(super) fn fit(&self, [width, length]: [i64; 2]) -> bool {
        self.shortest(width).is_some_and(|bound| bound.length <= length)
    }
    /// Puts a box in unless another is neither wider nor longer; drops those it beats.
    pub(super) fn insert(&mut self, bound: Bound) {
        let at = self.0.partition_point(|other| other.width < bound.width);
        let beaten_before = at.checked_sub(1).is_some_and(|i| self.0[i].length <= bound.length);
        let beaten_here =
            self.0.get(at).is_some_and(|other| other.width == bound.width && other.length <= bound.length);
        if beaten_before || beaten_here {
            return;
        }
        let end = at + self.0[at..].iter().take_while(|other| other.length >= bound.length).count();
        self.0.splice(at..end, std::iter::once(bound));
    }
    /// Everything another holds.
    pub(super) fn take(&mut self, other: &Self) {
        if self.0.is_empty() {
            self.0.clone_from(&other.0);
        } else {
            other.0.iter().for_each(|bound| self.insert(*bound));
        }
    }
}

/// A multiset's boxes with what names them.
#[derive(Clone, Copy)]
pub(super) struct Named<'a> {
    pub(super) level: u8,
    pub(super) set: usize,
    pub(super) stairs: &'a Stairs,
}

impl Named<'_> {
    fn origin(self, at: usize) -> Origin {
        Origin { level: self.level, set: self.set as u32, width: self.stairs.0[at].width }
    }
}

/// Every undominated way to lay a box of `a` beside one of `b` that stays within the limits.
pub(super) fn beside(a: Named<'_>, b: Named<'_>, limit: [i64; 2], into: &mut Stairs) {
    let (first, second) = (&a.stairs.0, &b.stairs.0);
    let (mut i, mut j) = (0, 0);
    while i < first.len() && j < second.len() {
        let width = first[i].width + second[j].width;
        if width > limit[0] {
            return;
        }
        let length = first[i].length.max(second[j].length);
        if length <= limit[1] {
            into.insert(Bound { width, length, how: How::Beside([a.origin(i), b.origin(j)]) });
        }
        // The longer one has to become shorter.
        let (up, down) = (first[i].length >= length, second[j].length >= length);
        i += usize::from(up);
        j += usize::from(down);
    }
}

/// Every undominated way to lay a box of `b` after one of `a` that stays within the limits.
pub(super) fn after(a: Named<'_>, b: Named<'_>, limit: [i64; 2], into: &mut Stairs) {
    let (first, second) = (&a.stairs.0, &b.stairs.0);
    let (mut i, mut j) = (first.len(), second.len());
    while i > 0 && j > 0 {
        let (one, two) = (&first[i - 1], &second[j - 1]);
        let length = one.length + two.length;
        if length > limit[1] {
            return;
        }
        let width = one.width.max(two.width);
        if width <= limit[0] {
            into.insert(Bound { width, length, how: How::After([a.origin(i - 1), b.origin(j - 1)]) });
        }
        let (up, down) = (one.width >= width, two.width >= width);
        i -= usize::from(up);
        j -= usize::from(down);
    }
}
