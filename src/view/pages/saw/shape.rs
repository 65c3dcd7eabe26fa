//! The entries of a box whose sides are no rectangles.
use std::borrow::Cow;

use yew::prelude::*;

use super::fold;
use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::model::geometry::{Pair, Precedence};
use crate::view::store::Handle;
use crate::words::{saw as words, shape, wood};

const PLAIN: &[FieldId] = &[FieldId::Shape];
const SLANTED_BACK: &[FieldId] =
    &[FieldId::Shape, FieldId::TopDepth, FieldId::BackJoint, FieldId::FrontJoint];
const SLANTED_FRONT: &[FieldId] =
    &[FieldId::Shape, FieldId::FrontSetback, FieldId::BackJoint, FieldId::FrontJoint];
const BOTH: &[FieldId] =
    &[FieldId::Shape, FieldId::FrontSetback, FieldId::TopDepth, FieldId::BackJoint, FieldId::FrontJoint];
const STEP: &[FieldId] =
    &[FieldId::Shape, FieldId::StepHeight, FieldId::StepDepth, FieldId::BackJoint, FieldId::FrontJoint];

/// The choice of a shape and what it asks for.
#[inline(never)]
pub(super) fn entries(store: &Handle) -> Html {
    let ids = match store.design().sheet.choice_key(FieldId::Shape) {
        "slanted back" => SLANTED_BACK,
        "slanted front" => SLANTED_FRONT,
        "both slanted" => BOTH,
        "step above" | "step below" => STEP,
        _ => PLAIN,
    };
    fold(store, shape::TITLE, ids)
}

/// Which boards cover which.
#[inline(never)]
pub(super) fn faces(enclosure: &BoxReport) -> Cow<'static, str> {
    let spec = &enclosure.spec;
    if spec.profile.is_some() {
        return shape::FACES.into();
    }
    let [first, second, _] = spec.precedence.order();
    if spec.pinwheel {
        return if first == Pair::FrontBack { wood::FACES_FRONT_RING } else { wood::FACES_RING_FRONT }.into();
    }
    if spec.precedence == Precedence::default() {
        return words::FACES.into();
    }
    let name = |pair| match pair {
        Pair::Sides => wood::SIDES,
        Pair::TopBottom => wood::TOP_BOTTOM,
        Pair::FrontBack => wood::FRONT_BACK,
    };
    wood::faces(name(first), name(second)).into()
}
