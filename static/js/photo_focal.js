/* The focal length a photo carries (as for 35 mm film), read in the browser from the start of a JPEG. */

const FOCAL_35MM = 0xa405;
const EXIF_POINTER = 0x8769;

/** Return the focal length in mm, or null where the file does not say. */
export function focalOf(buffer) {
  const view = new DataView(buffer);
  try {
    if (view.getUint16(0) !== 0xffd8) return null;
    for (let at = 2; at < view.byteLength - 10; at += 2 + view.getUint16(at + 2)) {
      if (view.getUint16(at) === 0xffe1 && view.getUint32(at + 4) === 0x45786966) return inTiff(view, at + 10);
      if ((view.getUint16(at) & 0xff00) !== 0xff00) return null;
    }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error; // a cut-off file says nothing
  }
  return null;
}

function inTiff(view, base) {
  const little = view.getUint16(base) === 0x4949;
  const short = (at) => view.getUint16(base + at, little);
  const long = (at) => view.getUint32(base + at, little);
  const find = (table, wanted) => {
    for (let entry = 0; entry < short(table); entry += 1) {
      const at = table + 2 + entry * 12;
      if (short(at) === wanted) return at + 8;
    }
    return null;
  };
  const pointer = find(long(4), EXIF_POINTER);
  const found = pointer === null ? null : find(long(pointer), FOCAL_35MM);
  return found === null ? null : short(found) || null;
}
