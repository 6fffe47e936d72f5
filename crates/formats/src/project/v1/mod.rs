//! Version 1 of the project file.
//!
//! Nothing here is ever changed in a way that an old file would notice. What is new may be left out and then means what
//! it meant before; what an old program must not overlook goes into the next version.

mod line;
mod plan;
mod text;
mod tune;
mod written_out;

use std::sync::Arc;

use handspan_core::arrangement::Work;
use serde::{Deserialize, Serialize};

/// The whole file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Project {
    version: u32,
    tune: tune::Tune,
    plan: plan::Plan,
}

impl From<&Work> for Project {
    fn from(work: &Work) -> Self {
        Self { version: 1, tune: tune::Tune::from(&*work.tune), plan: plan::Plan::of(&work.plan, &work.tune) }
    }
}

impl TryFrom<Project> for Work {
    /// A sentence that names what can't be.
    type Error = String;

    fn try_from(project: Project) -> Result<Self, String> {
        let tune = handspan_core::tune::Tune::try_from(project.tune)?;
        let plan = project.plan.read(&tune)?;
        Ok(Self { tune: Arc::new(tune), plan })
    }
}

/// Whether a value need not be written because it is what a missing one means.
fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}
