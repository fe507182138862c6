// Where the table's rows are on the part: holes and stretches of a rod. All in the part's own frame.
{
  const {Vector3} = THREE;
  const vector = (numbers, at) => new Vector3(numbers[at], numbers[at + 1], numbers[at + 2]);

  // Distance of a point from the stretch between two others.
  const distanceTo = (point, from, to) => {
    const along = to.clone().sub(from), square = along.lengthSq();
    const share = square > 0 ? Math.min(1, Math.max(0, point.clone().sub(from).dot(along) / square)) : 0;
    return point.distanceTo(from.clone().addScaledVector(along, share));
  };

  // The numbers are those of mark_text() in sheets/report_marks.cpp.
  const holeOf = numbers => {
    const base = vector(numbers, 0), axis = vector(numbers, 3), slot = vector(numbers, 9);
    const [low, high, radius] = numbers.slice(6, 9), [lowMouth, highMouth] = numbers.slice(12);
    const at = along => base.clone().addScaledVector(axis, along);
    const mouths = [];
    if (highMouth > 0) mouths.push({centre: at(high), normal: axis, radius: highMouth, slot});
    if (lowMouth > 0) mouths.push({centre: at(low), normal: axis.clone().negate(), radius: lowMouth, slot});
    const holds = point => {
      const along = point.clone().sub(base).dot(axis);
      if (along < low - 0.05 || along > high + 0.05) return false;
      const centre = at(along);
      return distanceTo(point, centre.clone().sub(slot), centre.clone().add(slot)) < radius * 1.002 + 0.02;
    };
    return {mouths, holds, anchor: mouths[0].centre, axis};
  };

  const stretchOf = numbers => {
    const radius = numbers[0], points = [];
    for (let i = 1; i < numbers.length; i += 3) points.push(vector(numbers, i));
    const holds = point => {
      for (let i = 1; i < points.length; ++i)
        if (distanceTo(point, points[i - 1], points[i]) < radius * 1.08) return true;
      return false;
    };
    return {points, radius, holds, mouths: [], anchor: points[points.length >> 1]};
  };

  fitup.readMarks = rows => rows.map(row => {
    const mark = row.dataset.hole ? holeOf(fitup.numbers(row.dataset.hole)) : stretchOf(fitup.numbers(row.dataset.stretch));
    return Object.assign(mark, {row, id: row.dataset.id, label: row.querySelector("a").textContent});
  });

  // Where a ray enters a mouth from outside; nothing where it does not.
  fitup.throughMouth = (ray, mouth, wider = 0) => {
    const facing = ray.direction.dot(mouth.normal);
    if (facing > -1e-3) return undefined;
    const far = mouth.centre.clone().sub(ray.origin).dot(mouth.normal) / facing;
    const point = ray.origin.clone().addScaledVector(ray.direction, far);
    const off = distanceTo(point, mouth.centre.clone().sub(mouth.slot), mouth.centre.clone().add(mouth.slot));
    return off <= mouth.radius + wider ? {far, off: off / mouth.radius} : undefined;
  };

  // Where a ray comes nearest to a stretch's line, if that is within its radius.
  fitup.ontoStretch = (ray, mark, wider = 0) => {
    let best;
    const onRay = new Vector3(), onLine = new Vector3();
    for (let i = 1; i < mark.points.length; ++i) {
      const off = Math.sqrt(new THREE.Ray(ray.origin, ray.direction).distanceSqToSegment(mark.points[i - 1], mark.points[i], onRay, onLine));
      const far = onRay.distanceTo(ray.origin);
      if (off <= mark.radius + wider && (!best || far < best.far)) best = {far, off: off / mark.radius};
    }
    return best;
  };

  // The outline of a mouth, as points to draw a line through.
  fitup.rim = mouth => {
    const across = mouth.slot.lengthSq() > 0 ? mouth.slot.clone().normalize()
                                             : new Vector3(Math.abs(mouth.normal.x) < 0.9 ? 1 : 0, Math.abs(mouth.normal.x) < 0.9 ? 0 : 1, 0);
    const u = across.addScaledVector(mouth.normal, -across.dot(mouth.normal)).normalize(), v = u.clone().cross(mouth.normal);
    const points = [];
    for (let i = 0; i < 48; ++i) {
      const turn = (2 * Math.PI * i) / 48, side = Math.cos(turn) >= 0 ? 1 : -1;
      points.push(mouth.centre.clone().addScaledVector(mouth.slot, side).addScaledVector(u, mouth.radius * Math.cos(turn)).addScaledVector(v, mouth.radius * Math.sin(turn)));
    }
    return points;
  };
}
