//! Points, stretches and closed lines in a plane, in millimetres.

/// A point, or a direction.
pub type At = [f64; 2];

pub(super) fn minus(a: At, b: At) -> At {
    [a[0] - b[0], a[1] - b[1]]
}

/// The point reached from `a` by so many times `along`.
pub(super) fn plus(a: At, along: At, by: f64) -> At {
    [a[0] + along[0] * by, a[1] + along[1] * by]
}

pub(super) fn dot(a: At, b: At) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// Above zero where `b` lies to the left of `a`.
pub(super) fn cross(a: At, b: At) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

pub(super) fn length(a: At) -> f64 {
    a[0].hypot(a[1])
}

/// The direction of length 1.
pub(super) fn unit(a: At) -> At {
    let long = length(a).max(1e-12);
    [a[0] / long, a[1] / long]
}

/// A stretch moved to its left, which is inwards along an anticlockwise line.
pub(super) fn moved([from, to]: [At; 2], by: f64) -> [At; 2] {
    let way = unit(minus(to, from));
    [from, to].map(|at| plus(at, [-way[1], way[0]], by))
}

/// Where the lines through two stretches meet; `None` where they hardly do.
pub(super) fn meet([a, b]: [At; 2], [c, d]: [At; 2]) -> Option<At> {
    let (way, other) = (unit(minus(b, a)), unit(minus(d, c)));
    let across = cross(way, other);
    (across.abs() > 1e-3).then(|| plus(a, way, cross(minus(c, a), other) / across))
}

/// Above zero where a point lies to the left of the line from one point to another.
pub(super) fn side([from, to]: [At; 2], at: At) -> f64 {
    cross(minus(to, from), minus(at, from))
}

/// Each corner of a closed line with the one after it.
pub(super) fn pairs(line: &[At]) -> impl Iterator<Item = [At; 2]> + '_ {
    line.iter().zip(line.iter().cycle().skip(1)).map(|(a, b)| [*a, *b])
}

/// Area within a closed line, above zero anticlockwise.
#[must_use]
pub fn area(line: &[At]) -> f64 {
    pairs(line).map(|[a, b]| cross(a, b)).sum::<f64>() / 2.0
}

/// Area within a closed line, and its first moments: area times where its middle lies.
pub(super) fn moments(line: &[At]) -> [f64; 3] {
    let mut sum = [0.0; 3];
    for [a, b] in pairs(line) {
        let twice = cross(a, b);
        sum[0] += twice / 2.0;
        sum[1] += twice * (a[0] + b[0]) / 6.0;
        sum[2] += twice * (a[1] + b[1]) / 6.0;
    }
    sum
}

/// The convex polygon around points, anticlockwise.
///
/// # Source
/// A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", Inf. Proc. Letters 9 (1979); from
/// memory.
#[must_use]
pub fn hull(points: &[At]) -> Vec<At> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let chain = |points: &mut dyn Iterator<Item = &At>| {
        let mut line: Vec<At> = Vec::new();
        for at in points {
            while let [.., a, b] = line.as_slice()
                && side([*a, *b], *at) <= 0.0
            {
                line.pop();
            }
            line.push(*at);
        }
        line.pop();
        line
    };
    let mut line = chain(&mut sorted.iter());
    line.extend(chain(&mut sorted.iter().rev()));
    line
}

/// Distance of a point from a stretch.
pub(super) fn from_stretch(at: At, [from, to]: [At; 2]) -> f64 {
    let way = minus(to, from);
    let share = (dot(minus(at, from), way) / dot(way, way).max(1e-18)).clamp(0.0, 1.0);
    length(minus(at, plus(from, way, share)))
}

/// Distance of a point from a closed line.
pub(super) fn distance(line: &[At], at: At) -> f64 {
    pairs(line).map(|stretch| from_stretch(at, stretch)).fold(f64::INFINITY, f64::min)
}

/// Whether a point lies within a closed line: a ray leaves it an odd number of times.
pub(super) fn holds(line: &[At], [x, y]: At) -> bool {
    let crossed = pairs(line)
        .filter(|[a, b]| (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]));
    crossed.count() % 2 == 1
}

/// The longest stretch that an edge of `onto` shares with one of `own`, the two at most `within` apart; `None` where no
/// edges lie on one another for 1 mm.
#[must_use]
pub fn shared_edge(own: &[At], onto: &[At], within: f64) -> Option<[At; 2]> {
    let mut longest: Option<(f64, [At; 2])> = None;
    for [from, to] in pairs(onto) {
        let along = unit(minus(to, from));
        for ends in pairs(own) {
            let off = ends.map(|at| minus(at, from));
            if off.iter().any(|off| cross(along, *off).abs() > within) {
                continue;
            }
            let [a, b] = off.map(|off| dot(along, off));
            let (low, high) = (a.min(b).max(0.0), a.max(b).min(length(minus(to, from))));
            if high - low >= 1.0 && longest.is_none_or(|(long, _)| high - low > long) {
                longest = Some((high - low, [low, high].map(|place| plus(from, along, place))));
            }
        }
    }
    longest.map(|(_, ends)| ends)
}
