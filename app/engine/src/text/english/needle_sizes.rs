//! Needle sizes and what they are called in America and in Britain.

use std::fmt;

use crate::needle_size::NeedleSize;

impl fmt::Display for NeedleSize {
    /// "2.25 mm (US 1, UK 13)".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} (US {}", self.millimetres(), self.us)?;
        if let Some(uk) = self.uk {
            write!(f, ", UK {uk}")?;
        }
        f.write_str(")")
    }
}
