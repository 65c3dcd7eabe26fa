//! From what is read off a straight edge, a tape from corner to corner and an angle gauge to the space there is.
use super::prism::Prism;
use crate::model::error::{ModelError, within};
use crate::model::geometry::axes::Axis;
use crate::model::geometry::plane::At;
use crate::units::parse_number;

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
            what: "sides and corner-to-corner lengths do not belong together: measure again",
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

/// A typed list without the unit that stands before or behind it, and how many mm that unit has: `in`, or mm without one.
fn unit(text: &str) -> (&str, f64) {
    const UNITS: [(&str, f64); 3] = [("in", 25.4), ("\"", 25.4), ("mm", 1.0)];
    let text = text.trim();
    for (name, mm) in UNITS {
        if let Some(rest) = text.strip_prefix(name).or_else(|| text.strip_suffix(name)) {
            return (rest, mm);
        }
    }
    (text, 1.0)
}

/// A typed number in mm: decimals with point or comma, or a fraction such as 24-1/2; up to 10 m.
fn number(text: &str, unit: f64) -> Option<f64> {
    let mm = parse_number(text).ok()?.value() * unit;
    Some(mm).filter(|mm| mm.abs() <= 1e4)
}

/// Numbers in mm, separated by blanks; a fraction behind a whole number belongs to it, as in 24 1/2.
fn numbers(text: &str, unit: f64) -> Option<Vec<f64>> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(whole) if is_fraction(word) && whole.bytes().all(|byte| byte.is_ascii_digit()) => {
                whole.push(' ');
                whole.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words.iter().map(|word| number(word, unit)).collect()
}

fn is_fraction(word: &str) -> bool {
    word.contains(['/', '\u{2044}']) && !word.contains('-')
}

/// Rows of numbers in mm from a text: rows separated by semicolons, numbers by blanks; all in inches behind or before `in`.
#[must_use]
pub fn rows(text: &str) -> Option<Vec<Vec<f64>>> {
    let (text, unit) = unit(text);
    let rows = text.split(';').map(str::trim).filter(|row| !row.is_empty());
    rows.map(|row| numbers(row, unit)).collect()
}

/// Stations from a text of [`rows`], in their order along the edge.
///
/// # Errors
/// [`ModelError::Impossible`] where a station has not `least` to `most` numbers from 0 to 10 m, or there are fewer than two
/// or more than 40.
pub fn stations(text: &str, least: usize, most: usize) -> Result<Vec<Vec<f64>>, ModelError> {
    let fits = |row: &Vec<f64>| (least..=most).contains(&row.len()) && row.iter().all(|mm| *mm >= 0.0);
    let all = rows(text).filter(|all| (2..=MOST).contains(&all.len()) && all.iter().all(fits));
    let mut all = all.ok_or(ModelError::Impossible {
        what: "stations are numbers in mm, or behind in in inches: two stations or more, separated by semicolons",
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
/// corners, such as `across 0 900: 0 0, 120 0, 0 80`; in mm, or in inches behind or before `in`.
///
/// # Errors
/// [`ModelError::Impossible`] where it is neither, or its corners do not go round one convex polygon.
pub fn body(text: &str) -> Result<Prism, ModelError> {
    let refuse = Err(ModelError::Impossible {
        what: "six numbers for a block, in mm or behind in in inches, or: across 0 900: 0 0, 120 0, 0 80, corners in order and without a notch",
    });
    let (text, unit) = unit(text);
    if let Some((head, corners)) = text.split_once(':') {
        let (word, ends) = head.trim().split_once(char::is_whitespace).unwrap_or((head, ""));
        let along = match word {
            "back" => Axis::Depth,
            "across" => Axis::Width,
            "up" => Axis::Height,
            _ => return refuse,
        };
        let ends = numbers(ends, unit);
        let section: Option<Vec<At>> = corners
            .split(',')
            .map(|pair| {
                let [a, b] = numbers(pair, unit)?.try_into().ok()?;
                Some([a, b])
            })
            .collect();
        return match (ends.as_deref(), section) {
            (Some([from, to]), Some(section)) if section.len() <= 24 => {
                let prism = Prism::over(along, [*from, *to], section);
                if prism.is_convex() { Ok(prism) } else { refuse }
            }
            _ => refuse,
        };
    }
    match numbers(text, unit).as_deref() {
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
