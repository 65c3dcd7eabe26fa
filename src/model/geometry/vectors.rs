//! Points and directions in space, in millimetres.
use super::faces::At3;

pub(super) fn minus(a: At3, b: At3) -> At3 {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

/// The point so far from `a` along `way`.
pub(super) fn plus(a: At3, way: At3, by: f64) -> At3 {
    [0, 1, 2].map(|i| a[i] + way[i] * by)
}

pub(super) fn dot(a: At3, b: At3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: At3, b: At3) -> At3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(super) fn length(a: At3) -> f64 {
    dot(a, a).sqrt()
}

/// The direction of length 1.
pub(super) fn unit(a: At3) -> At3 {
    let long = length(a).max(1e-12);
    a.map(|x| x / long)
}
