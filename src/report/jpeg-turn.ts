/** Turns a picture upright, so that nothing that shows it needs to know how the camera was held. */
import type { Plane, Planes } from './jpeg-read.ts';

/**
 * @param turned 1 to 8 as EXIF counts (tag 0x0112): 2 is mirrored, 3 upside down, 6 and 8 lie on their sides. Drops the
 * segments that may say the same.
 */
export function upright(picture: Planes, turned: number): Planes {
  const { width, height, planes, heads } = picture;
  const isOnSide = turned >= 5;
  const [mostAcross, mostDown] = [
    Math.max(...planes.map(({ across }) => across)),
    Math.max(...planes.map(({ down }) => down)),
  ];
  const turnedPlanes = planes.map((plane): Plane => {
    // Without the filling at the right and lower edge, which would come to stand at another.
    const [w, h] = [Math.ceil((width * plane.across) / mostAcross), Math.ceil((height * plane.down) / mostDown)];
    const [across, down] = isOnSide ? [h, w] : [w, h];
    const data = new Uint8ClampedArray(w * h);
    for (let y = 0; y < down; y++)
      for (let x = 0; x < across; x++) {
        const [u, v] = isOnSide ? [y, x] : [x, y];
        const fromX = [2, 3, 7, 8].includes(turned) ? w - 1 - u : u;
        const fromY = [3, 4, 6, 7].includes(turned) ? h - 1 - v : v;
        data[y * across + x] = plane.data[fromY * plane.width + fromX];
      }
    const sampling = isOnSide ? { across: plane.down, down: plane.across } : { across: plane.across, down: plane.down };
    return { id: plane.id, ...sampling, width: across, height: down, data };
  });
  return {
    width: isOnSide ? height : width,
    height: isOnSide ? width : height,
    planes: turnedPlanes,
    heads: heads.filter((head) => head[1] !== 0xe1),
  };
}
