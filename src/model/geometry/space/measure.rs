//! From what is read off a straight edge, a tape from corner to corner and an angle gauge to the space there is.
use super::prism::Prism;
use crate::model::error::{ModelError, within};
use crate::model::geometry::axes::Axis;
use crate::model::geometry::plane::At;

/// Most stations.
const MOST: usize = 40;

/// A rectangle measured by its sides and both diagonals, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skew {
    /// How far the far side stands to the right of the near one; below zero to the left.
    pub shift: f64,
    /// Distance of the two sides, square to them.
    pub square: f64,
    /// By how much it is out of square at a corner, in degrees.
    pub degrees: f64,
    /// The largest true rectangle along the near side: across and away from it.
    pub rectangle: At,
    /// By how much sides and diagonals miss each other, in mm along a diagonal: a slip of the tape, or sides unequal.
    pub miss: f64,
}

/// What two diagonals say of a floor or an opening: `across` and `away` its sides, `diagonals` from the near left corner
/// and from the near right one.
///
/// In a parallelogram d₁² + d₂² = 2 (a² + b²) and d₁² − d₂² = 4 a s, with s the shift of the far side (both by the cosine
/// rule). A rectangle along the near side that is x deep may be a − |s| x/h wide, which encloses most at the whole depth h,
/// or at a h/(2 |s|) where that is less.
///
/// # Errors
/// [`ModelError::OutOfRange`] for what is no length; [`ModelError::Impossible`] where no such floor exists.
pub fn skew(across: f64, away: f64, diagonals: [f64; 2]) -> Result<Skew, ModelError> {
    for length in [across, away, diagonals[0], diagonals[1]] {
        within("length in mm", length, 1.0, 1e5)?;
    }
    let [first, second] = diagonals.map(|d| d * d);
    let shift = (first - second) / (4.0 * across);
    let square = away * away - shift * shift;
    let miss = ((first + second) / 2.0).sqrt() - across.hypot(away);
    if square <= 0.0 || miss.abs() > 0.1 * across.hypot(away) {
        return Err(ModelError::Impossible {
            what: "sides and corner-to-corner lengths do not belong to one floor: measure again",
        });
    }
    let square = square.sqrt();
    let deep = if shift.abs() > 0.0 { square.min(across * square / (2.0 * shift.abs())) } else { square };
    Ok(Skew {
        shift,
        square,
        degrees: (shift / square).atan().to_degrees(),
        rectangle: [across - shift.abs() * deep / square, deep],
        miss,
    })
}

/// What such a floor takes from the block of its sides, left and right and behind.
#[must_use]
pub fn skewed(skew: &Skew, across: f64, away: f64, height: f64) -> [Option<Prism>; 3] {
    let upright = |section: Vec<At>| Some(Prism::over(Axis::Height, [0.0, height], section));
    // Coordinates of a section along the height: depth, width.
    let side =
        |edge: f64, shift: f64| upright(vec![[0.0, edge], [skew.square, edge + shift], [skew.square, edge]]);
    let behind = away - skew.square;
    [
        if skew.shift > 0.01 { side(0.0, skew.shift) } else { None },
        if skew.shift < -0.01 { side(across, skew.shift) } else { None },
        if behind > 0.01 {
            upright(vec![[skew.square, 0.0], [away, 0.0], [away, across], [skew.square, across]])
        } else {
            None
        },
    ]
}

/// Stations from a text: numbers in mm, stations separated by semicolons, decimals with point or comma.
///
/// # Errors
/// [`ModelError::Impossible`] where a station has not `least` to `most` numbers from 0 to 10 m, or there are fewer than two
/// or more than 40.
pub fn stations(text: &str, least: usize, most: usize) -> Result<Vec<Vec<f64>>, ModelError> {
    let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
    let read = |part: &str| -> Option<Vec<f64>> {
        let numbers: Option<Vec<f64>> = part
            .split_whitespace()
            .map(|number| number.replace(',', ".").parse().ok().filter(|mm: &f64| (0.0..=1e4).contains(mm)))
            .collect();
        numbers.filter(|numbers| (least..=most).contains(&numbers.len()))
    };
    let all: Option<Vec<Vec<f64>>> = parts.map(read).collect();
    let mut all = all.filter(|all| (2..=MOST).contains(&all.len())).ok_or(ModelError::Impossible {
        what: "stations are numbers in mm, two stations or more, separated by semicolons",
    })?;
    all.sort_by(|a, b| a[0].total_cmp(&b[0]));
    Ok(all)
}

/// What stations on a side keep free of a box: at each height the depth that is free, straight between them, upright
/// below the lowest and above the highest. One body for each stretch.
#[must_use]
pub fn behind(stations: &[Vec<f64>], depth: f64, height: f64, width: f64) -> Vec<Prism> {
    let line = profile(stations, height, |station| station[1].min(depth));
    let stretch = |[from, to]: [At; 2]| {
        let section = vec![[from[1], from[0]], [depth, from[0]], [depth, to[0]], [to[1], to[0]]];
        Prism::over(Axis::Width, [0.0, width], section)
    };
    bodies(&line, stretch)
}

/// What stations on a plan keep free at both sides: at each depth what is free left and right of a straight edge, or one
/// number for both together, half to each side. Where the edge lies is given by its distance from the left.
#[must_use]
pub fn beside(stations: &[Vec<f64>], edge: f64, [depth, width, height]: [f64; 3]) -> [Vec<Prism>; 2] {
    let upright = |section: Vec<At>| Prism::over(Axis::Height, [0.0, height], section);
    let left = profile(stations, depth, |station| (edge - offsets(station)[0]).max(0.0));
    let right = profile(stations, depth, |station| (edge + offsets(station)[1]).min(width));
    [
        bodies(&left, |[from, to]| {
            upright(vec![[from[0], 0.0], [to[0], 0.0], [to[0], to[1]], [from[0], from[1]]])
        }),
        bodies(&right, |[from, to]| {
            upright(vec![[from[0], from[1]], [to[0], to[1]], [to[0], width], [from[0], width]])
        }),
    ]
}

/// What is free left and right of the edge at a station.
#[must_use]
pub fn offsets(station: &[f64]) -> [f64; 2] {
    match station {
        [_, left, right] => [*left, *right],
        [_, both] => [both / 2.0; 2],
        _ => [0.0; 2],
    }
}

/// A line through stations from 0 to `end`, level before the first and after the last.
fn profile(stations: &[Vec<f64>], end: f64, value: impl Fn(&[f64]) -> f64) -> Vec<At> {
    let mut line: Vec<At> = stations.iter().map(|station| [station[0].min(end), value(station)]).collect();
    if let (Some(first), Some(last)) = (line.first().copied(), line.last().copied()) {
        line.insert(0, [0.0, first[1]]);
        line.push([end, last[1]]);
    }
    line
}

/// One body for each stretch of a line that has one.
fn bodies(line: &[At], body: impl Fn([At; 2]) -> Prism) -> Vec<Prism> {
    let stretches = line.windows(2).filter(|pair| pair[1][0] - pair[0][0] > 0.01);
    stretches.map(|pair| body([pair[0], pair[1]])).filter(|body| body.volume_mm3() > 1.0).collect()
}

/// The straight limit that leans no more than stations allow: free depth at the floor and at a height.
///
/// Through the lowest and the highest station, moved forward until no station lies before it.
#[must_use]
pub fn leaning(stations: &[Vec<f64>], depth: f64, height: f64) -> Option<At> {
    let line = profile(stations, height, |station| station[1].min(depth));
    let (low, high) = (line.first()?[1], line.last()?[1]);
    if high >= low || height <= 0.0 {
        return None;
    }
    let at = |z: f64| low + (high - low) * z / height;
    let before = line.iter().map(|[z, free]| at(*z) - free).fold(0.0, f64::max);
    Some([low - before, high - before])
}

/// Free depth at a height under a seat back that leans by an angle from upright.
#[must_use]
pub fn reclined(depth: f64, height: f64, degrees: f64) -> f64 {
    depth - height * degrees.clamp(0.0, 80.0).to_radians().tan()
}

/// A body typed by hand: six numbers for a block (from and to in depth, width and height), or an axis, a stretch and
/// corners, such as `across 0 900: 0 0, 120 0, 0 80`.
///
/// # Errors
/// [`ModelError::Impossible`] where it is neither, or its corners do not go round one convex polygon.
pub fn body(text: &str) -> Result<Prism, ModelError> {
    let refuse = Err(ModelError::Impossible {
        what: "six numbers in mm for a block, or: across 0 900: 0 0, 120 0, 0 80, corners in order and without a notch",
    });
    let number =
        |text: &str| text.replace(',', ".").parse::<f64>().ok().filter(|mm| (-1e4..=1e4).contains(mm));
    if let Some((head, corners)) = text.split_once(':') {
        let words: Vec<&str> = head.split_whitespace().collect();
        let along = match words.first() {
            Some(&"back") => Axis::Depth,
            Some(&"across") => Axis::Width,
            Some(&"up") => Axis::Height,
            _ => return refuse,
        };
        let ends = [words.get(1), words.get(2)].map(|word| word.and_then(|word| number(word)));
        let section: Option<Vec<At>> = corners
            .split(',')
            .map(|pair| {
                let mut numbers = pair.split_whitespace().map(number);
                Some([numbers.next()??, numbers.next()??]).filter(|_| numbers.next().is_none())
            })
            .collect();
        return match (ends, section, words.len()) {
            ([Some(from), Some(to)], Some(section), 3) if section.len() <= 24 => {
                let prism = Prism::over(along, [from, to], section);
                if prism.is_convex() { Ok(prism) } else { refuse }
            }
            _ => refuse,
        };
    }
    let numbers: Option<Vec<f64>> = text.split_whitespace().map(number).collect();
    match numbers.as_deref() {
        Some([x0, x1, y0, y1, z0, z1]) => {
            let prism = Prism::block(
                [x0.min(*x1), y0.min(*y1), z0.min(*z1)],
                [x0.max(*x1), y0.max(*y1), z0.max(*z1)],
            );
            if prism.is_convex() { Ok(prism) } else { refuse }
        }
        _ => refuse,
    }
}
