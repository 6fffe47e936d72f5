//! A frame as PNG: a picture of the page in greys, the same on every machine.

use thiserror::Error;

use super::raster;
use crate::frame::Frame;

/// The dots of a printed inch: enough for a printer at home, little enough for a letter.
pub const DOTS_AN_INCH: f64 = 200.0;

/// Why no picture could be made.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Error {
    /// A page without area, or one larger than a picture can be.
    #[error("the page has no area or is too large, so there is no picture of it")]
    Size,
    /// The writer of the format gave up.
    #[error("the picture could not be put together ({0}); the arrangement itself is not touched")]
    Format(String),
}

/// Draws a frame with so many dots to the inch, black on white.
///
/// # Errors
/// A frame without area or larger than a picture can be, or a fault of the library.
pub fn png(frame: &Frame, dots_an_inch: f64) -> Result<Vec<u8>, Error> {
    let scale = dots_an_inch / 72.0;
    let greys = raster::greys(frame, scale, 0..raster::height_at(frame, scale));
    if greys.pixels.is_empty() {
        return Err(Error::Size);
    }
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, greys.width as u32, greys.height as u32);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    let metre = (dots_an_inch / 0.0254).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: metre, yppu: metre, unit: png::Unit::Meter }));
    let format = |fault: png::EncodingError| Error::Format(fault.to_string());
    let mut writer = encoder.write_header().map_err(format)?;
    writer.write_image_data(&greys.pixels).map_err(format)?;
    writer.finish().map_err(format)?;
    Ok(bytes)
}
