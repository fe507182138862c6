// Which row a place on the screen belongs to, and lighting a row on both sides.
{
  const nearer = (a, b) => (!b || a.far < b.far ? a : b);

  // The mark under a ray that no metal hides. `wider` is how far beside it still counts, in mm.
  const markUnder = (view, marks, ray, wider) => {
    let best;
    for (const mark of marks) {
      const hits = mark.points ? [fitup.ontoStretch(ray, mark, wider)] : mark.mouths.map(mouth => fitup.throughMouth(ray, mouth, wider));
      for (const hit of hits) if (hit) best = wider > 0 ? closer({...hit, mark}, best) : nearer({...hit, mark}, best);
    }
    if (!best || best.mark.points) return best && best.mark;
    return view.metalAlong(ray) < best.far - 0.2 - wider ? undefined : best.mark;
  };
  const closer = (a, b) => (!b || a.off < b.off ? a : b);

  fitup.Picking = class {
    constructor(view, marks, said, showSide) {
      Object.assign(this, {view, marks, said, showSide, lit: undefined, hovered: undefined});
    }

    // A finger is broad: what lies within `reach` pixels counts where nothing lies right under it.
    markAt(x, y, reach) {
      const ray = this.view.rayAt(x, y);
      return markUnder(this.view, this.marks, ray, 0) || markUnder(this.view, this.marks, ray, reach * this.view.mmPerPixel);
    }

    byId(id) { return this.marks.find(mark => mark.id === id); }

    hover(mark) {
      if (mark === this.hovered) return;
      this.hovered = mark;
      this.view.redraw();
    }

    light(mark) {
      if (this.lit) this.lit.row.classList.remove("lit");
      this.lit = mark;
      if (mark) mark.row.classList.add("lit");
      document.documentElement.dataset.lit = mark ? mark.id : "";
      this.said(mark);
      this.view.light(mark);
    }

    // From the table: the part is turned where the hole would look away.
    lightAndShow(mark) {
      this.light(mark);
      const looksHere = mark.mouths.length === 0 || mark.mouths.some(mouth => this.view.towards(mouth.normal) > 0.15);
      if (looksHere) return;
      const {y, z} = mark.axis, flat = Math.abs(z) < 0.5;
      this.showSide(flat ? (y > 0 ? "back" : "edge") : z > 0 ? "b" : "a");
    }

    // The next or the one before, in the table's order.
    step(by) {
      const at = this.marks.indexOf(this.lit), count = this.marks.length;
      if (count > 0) this.lightAndShow(this.marks[at < 0 ? (by > 0 ? 0 : count - 1) : (at + by + count) % count]);
    }
  };
}
