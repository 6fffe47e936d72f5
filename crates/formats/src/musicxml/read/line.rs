//! Lines of a file, so that a place in it can be named quickly however long the file is.

/// Where every line of a text begins.
pub(super) struct Lines {
    starts: Vec<usize>,
}

impl Lines {
    pub(super) fn of(text: &str) -> Self {
        let after_breaks = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        Self { starts: std::iter::once(0).chain(after_breaks).collect() }
    }

    /// The line that holds a byte, counted from 1.
    pub(super) fn at(&self, byte: usize) -> u32 {
        u32::try_from(self.starts.partition_point(|start| *start <= byte)).unwrap_or(u32::MAX)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_count_from_one() {
        let lines = Lines::of("a\nbc\n\nd");
        assert_eq!([0, 1, 2, 4, 5, 6].map(|byte| lines.at(byte)), [1, 1, 2, 2, 3, 4]);
    }
}
