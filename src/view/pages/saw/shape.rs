//! The entries of a box whose sides are no rectangles.
use yew::prelude::*;

use super::fold;
use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::view::store::Handle;
use crate::words::{saw as words, shape};

const PLAIN: &[FieldId] = &[FieldId::Shape];
const SLANTED_BACK: &[FieldId] = &[FieldId::Shape, FieldId::TopDepth, FieldId::BackJoint];
const SLANTED_FRONT: &[FieldId] = &[FieldId::Shape, FieldId::FrontSetback, FieldId::BackJoint];
const BOTH: &[FieldId] = &[FieldId::Shape, FieldId::FrontSetback, FieldId::TopDepth, FieldId::BackJoint];
const STEP: &[FieldId] = &[FieldId::Shape, FieldId::StepHeight, FieldId::StepDepth, FieldId::BackJoint];

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
pub(super) fn faces(enclosure: &BoxReport) -> &'static str {
    if enclosure.spec.profile.is_some() { shape::FACES } else { words::FACES }
}
