//! The tune that the window opens with.

use std::sync::Arc;

use handspan_core::arrangement::Work;
use handspan_core::plan::Plan;
use handspan_formats::musicxml;

/// The demo tune with nothing decided yet.
pub fn work() -> Work {
    let sheet = include_bytes!("../../../demo-data/gangway-at-six.musicxml");
    let imported = musicxml::read_tune(sheet).expect("a test reads the demo tune");
    Work { tune: Arc::new(imported.value), plan: Plan::default() }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_demo_tune_is_read() {
        assert_eq!(super::work().tune.title(), "Gangway at Six");
    }
}
