// Numbers beside the holes, written over the picture so that they face whoever looks, and outlines of what is picked.
{
  const textSize = 12;

  // In a hole that is large enough; else beside the rim, best away from the part's middle.
  const placesOf = (at, middle, radius, width, isStretch) => {
    if (radius > width) return [at];
    const dx = at.x - middle.x, dy = at.y - middle.y, length = Math.hypot(dx, dy) || 1;
    const gap = radius + (isStretch ? 9 : 5);
    const beside = (x, y) => ({x: at.x + x * (gap + width / 2), y: at.y + y * (gap + textSize / 2)});
    const sideways = [beside(1, 0), beside(-1, 0)], upright = [beside(0, -1), beside(0, 1)];
    return isStretch ? [...upright, ...sideways] : [beside(dx / length, dy / length), ...sideways, ...upright];
  };

  const boxAt = (place, width) =>
    ({left: place.x - width / 2 - 2, right: place.x + width / 2 + 2, top: place.y - textSize / 2 - 1, bottom: place.y + textSize / 2 + 1});
  const meet = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

  fitup.Labels = class {
    constructor(view, marks) {
      Object.assign(this, {view, marks, paint: view.overlay.getContext("2d"), shown: true});
    }

    // The mouth that looks at the viewer; of a stretch its middle.
    visible(mark) {
      if (mark.mouths.length === 0) return {centre: mark.anchor, radius: mark.radius};
      return mark.mouths.find(mouth => this.view.towards(mouth.normal) > 0.12);
    }

    // No label over another hole.
    openings() {
      const boxes = [];
      for (const mark of this.marks) {
        const mouth = mark.mouths.length > 0 && this.visible(mark);
        if (!mouth) continue;
        const at = this.view.seen(mouth.centre), radius = (0.8 * mouth.radius) / this.view.mmPerPixel;
        if (radius < 40) boxes.push({left: at.x - radius, right: at.x + radius, top: at.y - radius, bottom: at.y + radius});
      }
      return boxes;
    }

    outline(mark, colour, width) {
      const {paint, view} = this;
      paint.strokeStyle = colour;
      paint.lineWidth = width;
      // One that looks away from the viewer shows dashed, where no other does.
      const facing = mark.mouths.filter(mouth => view.towards(mouth.normal) > 0);
      paint.setLineDash(facing.length > 0 ? [] : [4, 4]);
      for (const mouth of facing.length > 0 ? facing : mark.mouths) {
        paint.beginPath();
        for (const point of fitup.rim(mouth)) {
          const at = view.seen(point);
          paint.lineTo(at.x, at.y);
        }
        paint.closePath();
        paint.stroke();
      }
      paint.setLineDash([]);
    }

    write(mark, taken, style, isLit) {
      const spot = this.visible(mark) || (isLit && {centre: mark.anchor, radius: mark.mouths[0].radius});
      if (!spot) return;
      const at = this.view.seen(spot.centre), width = this.paint.measureText(mark.label).width;
      const reach = (spot.radius + (spot.slot ? spot.slot.length() : 0)) / this.view.mmPerPixel;
      const boxes = placesOf(at, this.view.seen(this.view.middle), reach, width, Boolean(mark.points)).map(place => boxAt(place, width));
      const free = boxes.find(box => !taken.some(other => meet(other, box))) || (isLit && boxes[0]);
      if (!free) return;
      taken.push(free);
      this.letter(mark.label, free, style, isLit);
    }

    letter(text, box, style, isLit) {
      const x = (box.left + box.right) / 2, y = (box.top + box.bottom) / 2 + 0.5;
      const {paint} = this, colour = name => style.getPropertyValue(name).trim();
      if (isLit) {
        paint.fillStyle = colour("--mark");
        paint.fillRect(box.left - 3, box.top - 2, box.right - box.left + 6, box.bottom - box.top + 4);
      } else {
        paint.strokeStyle = colour("--sheet");
        paint.lineWidth = 3.5;
        paint.strokeText(text, x, y);
      }
      paint.fillStyle = colour(isLit ? "--on-mark" : "--ink");
      paint.fillText(text, x, y);
    }

    // The lit one first: it always finds room.
    draw(style, lit, hovered) {
      const {paint, view} = this, ratio = view.renderer.getPixelRatio();
      paint.setTransform(ratio, 0, 0, ratio, 0, 0);
      paint.clearRect(0, 0, view.width, view.height);
      paint.font = `${textSize}px system-ui, "Liberation Sans", "DejaVu Sans", sans-serif`;
      paint.textAlign = "center";
      paint.textBaseline = "middle";
      paint.lineJoin = "round";
      const mark = style.getPropertyValue("--mark").trim(), taken = this.openings();
      if (hovered && hovered !== lit) this.outline(hovered, mark, 1.5);
      if (lit) this.outline(lit, mark, 3), this.write(lit, taken, style, true);
      if (hovered && hovered !== lit) this.write(hovered, taken, style, false);
      if (!this.shown) return;
      for (const one of this.marks) if (one !== lit && one !== hovered) this.write(one, taken, style, false);
    }
  };
}
