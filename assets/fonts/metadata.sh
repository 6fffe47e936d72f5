#!/bin/sh
# Cuts what the sheet uses out of the music font's own metadata, and writes it beside the font.
# Needs npm and jq; run it in this folder after a change of the font or of the signs in crates/sheet/src/glyph/smufl.rs.
set -eu
work=$(mktemp -d)
(cd "$work" && npm pack --silent @vexflow-fonts/bravura@1.0.2 && tar xf vexflow-fonts-bravura-1.0.2.tgz)
cp "$work/package/bravura.otf" bravura.otf
jq --sort-keys '
  def used: test("^(timeSig|tuplet)[0-9]$")
    or test("^flag(8th|16th|32nd|64th)(Up|Down)$")
    or test("^notehead((Whole|Half|Black)|Diamond(Whole|Half|Black)Old|XBlack)$")
    or test("^accidental(DoubleFlat|Flat|Natural|Sharp|DoubleSharp)$")
    or test("^rest(Whole|Half|Quarter|8th|16th|32nd|64th)$")
    or test("^(6stringTabClef|gClef8vb|augmentationDot|repeatDot|segno|coda|metAugmentationDot)$")
    or test("^metNote(Whole|HalfUp|QuarterUp|8thUp|16thUp)$");
  {
    fontName, fontVersion, engravingDefaults,
    glyphBBoxes: .glyphBBoxes | with_entries(select(.key | used)),
    glyphsWithAnchors: .glyphsWithAnchors
      | with_entries(select(.key | test("^notehead(Half|Black)$|^noteheadDiamond(Half|Black)Old$")))
      | map_values({stemUpSE, stemDownNW})
  }' "$work/package/metadata.json" > bravura.metadata.json
rm -r "$work"
