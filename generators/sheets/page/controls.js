// Mouse, pen, fingers and keys.
{
  const clickWithin = {mouse: 4, pen: 6, touch: 10};
  const reachOf = {mouse: 5, pen: 8, touch: 18};

  fitup.Pointers = class {
    constructor(view, picking, onPick) {
      Object.assign(this, {view, picking, onPick, down: new Map(), moved: 0});
      const canvas = view.overlay;
      canvas.addEventListener("pointerdown", event => this.press(event));
      canvas.addEventListener("pointermove", event => this.drag(event));
      canvas.addEventListener("pointerup", event => this.release(event));
      canvas.addEventListener("pointercancel", event => this.down.delete(event.pointerId));
      canvas.addEventListener("pointerleave", () => picking.hover(undefined));
      canvas.addEventListener("contextmenu", event => event.preventDefault());
      canvas.addEventListener("dblclick", () => view.goTo(view.turn.clone()));
      // The page scrolls until the view has been clicked: nobody is to be caught in it.
      canvas.addEventListener("wheel", event => {
        if (document.activeElement !== canvas && !event.ctrlKey) return;
        event.preventDefault();
        const {x, y} = this.place(event);
        view.stop();
        view.zoom(Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0015)), x, y);
      }, {passive: false});
    }

    place(event) {
      const box = this.view.overlay.getBoundingClientRect();
      return {x: event.clientX - box.left, y: event.clientY - box.top};
    }

    press(event) {
      if (this.down.size === 0) this.moved = 0;
      this.down.set(event.pointerId, this.place(event));
      try { this.view.overlay.setPointerCapture(event.pointerId); } catch (error) { /* a pointer that is no more */ }
      this.view.stop();
    }

    drag(event) {
      const before = this.down.get(event.pointerId), now = this.place(event);
      if (!before) {
        if (event.pointerType === "mouse") this.picking.hover(this.picking.markAt(now.x, now.y, 0));
        return;
      }
      const dx = now.x - before.x, dy = now.y - before.y;
      this.moved += Math.hypot(dx, dy);
      if (this.moved < clickWithin[event.pointerType || "mouse"]) return;
      if (this.down.size > 1) this.pinch(event.pointerId, before, now);
      else if (event.buttons & 6 || event.shiftKey) this.view.move(dx, dy);
      else this.view.rotate(dx, dy);
      this.down.set(event.pointerId, now);
    }

    // Two fingers: their middle moves the part, their distance sizes it.
    pinch(id, before, now) {
      const [, other] = [...this.down].find(([key]) => key !== id);
      const apart = Math.hypot(now.x - other.x, now.y - other.y) / (Math.hypot(before.x - other.x, before.y - other.y) || 1);
      this.view.move((now.x - before.x) / 2, (now.y - before.y) / 2);
      this.view.zoom(apart, (now.x + other.x) / 2, (now.y + other.y) / 2);
    }

    release(event) {
      const was = this.down.delete(event.pointerId), kind = event.pointerType || "mouse";
      if (!was || this.moved >= clickWithin[kind] || event.button > 0) return;
      this.view.overlay.focus({preventScroll: true});
      const {x, y} = this.place(event);
      this.onPick(this.picking.markAt(x, y, reachOf[kind] || 5));
    }
  };

  // Keys while the view has the focus.
  fitup.keysOf = (view, picking, sideButton) => {
    const step = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]};
    const named = {
      "+": () => view.zoom(1.25), "=": () => view.zoom(1.25), "-": () => view.zoom(0.8),
      0: () => view.goTo(view.turn.clone()),
      a: () => sideButton("a"), b: () => sideButton("b"), e: () => sideButton("edge"), f: () => sideButton("back"), s: () => sideButton("aslant"),
      n: () => picking.step(1), p: () => picking.step(-1), Escape: () => picking.light(undefined),
    };
    return event => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const arrow = step[event.key], does = named[event.key.length === 1 ? event.key.toLowerCase() : event.key];
      if (arrow) view.stop(), event.shiftKey ? view.move(-24 * arrow[0], -24 * arrow[1]) : view.rotate(24 * arrow[0], 24 * arrow[1]);
      else if (does) does();
      else return;
      event.preventDefault();
    };
  };
}
