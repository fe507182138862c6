// The part on the screen: parallel light and projection, as on a drawing, but turned freely.
{
  const {Vector3, Quaternion} = THREE;
  const about = (x, y, z, turn) => new Quaternion().setFromAxisAngle(new Vector3(x, y, z), turn);
  const degrees = Math.PI / 180;

  // How the part lies for each button. Side A is turned over about the Y axis, as on the table.
  fitup.sides = {
    b: about(0, 0, 1, 0),
    a: about(0, 1, 0, Math.PI),
    edge: about(1, 0, 0, -90 * degrees),
    back: about(1, 0, 0, -90 * degrees).multiply(about(0, 0, 1, Math.PI)),
    aslant: about(1, 0, 0, -48 * degrees).multiply(about(0, 0, 1, -26 * degrees)),
  };

  // What a polished ball shows of a workshop: a window up on the left, a bench below, the wall between.
  const reflections = () => {
    const canvas = document.createElement("canvas"), size = (canvas.width = canvas.height = 256);
    const paint = canvas.getContext("2d");
    const wall = paint.createLinearGradient(0, 0, size * 0.35, size);
    for (const [at, grey] of [[0, 250], [0.3, 226], [0.48, 214], [0.62, 176], [0.8, 128], [1, 96]])
      wall.addColorStop(at, `rgb(${grey},${grey - 2},${grey - 6})`);
    paint.fillStyle = wall;
    paint.fillRect(0, 0, size, size);
    const window = paint.createRadialGradient(88, 74, 0, 88, 74, 84);
    window.addColorStop(0, "rgba(255,255,252,.55)");
    window.addColorStop(1, "rgba(255,255,252,0)");
    paint.fillStyle = window;
    paint.fillRect(0, 0, size, size);
    return new THREE.CanvasTexture(canvas);
  };

  const geometry = (positions, normals) => {
    const made = new THREE.BufferGeometry();
    made.setAttribute("position", new THREE.BufferAttribute(positions, 3));
    if (normals) made.setAttribute("normal", new THREE.BufferAttribute(normals, 3));
    return made;
  };

  fitup.View = class {
    // Throws where the browser has no WebGL.
    constructor(stage, mesh, marks, metal) {
      this.stage = stage;
      this.mesh = mesh;
      this.renderer = new THREE.WebGLRenderer({antialias: true, alpha: true});
      this.renderer.setPixelRatio(Math.min(2, window.devicePixelRatio || 1));
      stage.prepend(this.renderer.domElement);
      this.overlay = stage.querySelector("canvas.labels");
      this.camera = new THREE.OrthographicCamera(-1, 1, 1, -1, 0, 1);
      this.scene = new THREE.Scene();
      this.scene.fog = new THREE.Fog(0x3a342c);
      this.part = new THREE.Group();
      this.scene.add(this.part);
      this.faces = fitup.faceNormals(mesh);
      this.addLines(fitup.sortedEdges(mesh, fitup.edges(mesh, this.faces), marks));
      this.metal = metal;
      this.addBody();
      this.middle = new Vector3(...mesh.least).addScaledVector(new Vector3(...mesh.size), 0.5);
      this.reach = new Vector3(...mesh.size).length();
      this.turn = fitup.sides.aslant.clone();
      this.target = this.middle.clone();
      this.isWhole = true;
      new ResizeObserver(() => this.resize()).observe(stage);
      this.resize();
    }

    addLines({plain, fine}) {
      this.ink = new THREE.LineBasicMaterial({transparent: true, opacity: 0.75});
      this.fineLines = new THREE.LineSegments(geometry(fine), this.ink);
      this.part.add(new THREE.LineSegments(geometry(plain), this.ink), this.fineLines);
    }

    addBody() {
      const matcap = reflections();
      const material = new THREE.MeshMatcapMaterial({matcap, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1});
      this.body = new THREE.Mesh(geometry(fitup.cornerPoints(this.mesh), fitup.cornerNormals(this.mesh, this.faces)), material);
      this.lit = new THREE.Mesh(geometry(new Float32Array(9)), new THREE.MeshMatcapMaterial({matcap, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -1}));
      this.lit.visible = false;
      this.part.add(this.body, this.lit);
    }

    // Paints what a mark holds.
    light(mark) {
      this.lit.visible = Boolean(mark);
      if (mark) {
        const {points, corners} = this.mesh, chosen = [], point = new Vector3();
        const held = new Map();
        const holds = corner => {
          if (!held.has(corner)) held.set(corner, mark.holds(point.fromArray(points, 3 * corner)));
          return held.get(corner);
        };
        for (let t = 0; t < corners.length; t += 3)
          if (holds(corners[t]) && holds(corners[t + 1]) && holds(corners[t + 2])) chosen.push(t, t + 1, t + 2);
        this.lit.geometry.dispose();
        const pick = array => Float32Array.from(chosen.flatMap(i => [array[3 * i], array[3 * i + 1], array[3 * i + 2]]));
        this.lit.geometry = geometry(pick(this.body.geometry.attributes.position.array), pick(this.body.geometry.attributes.normal.array));
      }
      this.redraw();
    }

    resize() {
      this.width = Math.max(1, this.stage.clientWidth);
      this.height = Math.max(1, this.stage.clientHeight);
      this.renderer.setSize(this.width, this.height);
      const ratio = this.renderer.getPixelRatio();
      this.overlay.width = this.width * ratio;
      this.overlay.height = this.height * ratio;
      if (this.isWhole) Object.assign(this, this.wholeAt(this.turn));
      // At once: a canvas of a new size is blank.
      if (this.half) this.draw();
    }

    // Half the picture's height in mm, and the target, so that the whole part shows.
    wholeAt(turn) {
      const {points} = this.mesh, low = new Vector3(Infinity, Infinity, Infinity), high = low.clone().negate(), seen = new Vector3();
      for (let i = 0; i < points.length; i += 3) {
        seen.set(points[i], points[i + 1], points[i + 2]).applyQuaternion(turn);
        low.min(seen), high.max(seen);
      }
      // Room for the labels, which are wider than high.
      const size = high.clone().sub(low);
      const half = Math.max(size.y * 1.14, (size.x * 1.24 * this.height) / this.width) * 0.5;
      return {half, target: low.add(high).multiplyScalar(0.5).applyQuaternion(turn.clone().inverse())};
    }

    // Turns to a side within a third of a second, or at once for whoever wants no motion.
    goTo(turn) {
      this.isWhole = true;
      const from = {turn: this.turn.clone(), target: this.target.clone(), half: this.half};
      const goal = this.wholeAt(turn), begin = performance.now();
      const isQuick = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
      const run = (this.run = () => {
        if (this.run !== run) return;
        const share = isQuick ? 1 : Math.min(1, (performance.now() - begin) / 320), eased = share * share * (3 - 2 * share);
        Quaternion.slerp(from.turn, turn, this.turn, eased);
        this.target.lerpVectors(from.target, goal.target, eased);
        this.half = from.half + (goal.half - from.half) * eased;
        this.redraw();
        if (share < 1) requestAnimationFrame(run);
      });
      run();
    }

    // By hand from now on: a change of the window's size leaves the picture as it is.
    stop() {
      this.run = undefined;
      this.isWhole = false;
    }

    rotate(dx, dy) {
      const rate = 3.2 / Math.min(this.width, this.height);
      this.turn.premultiply(about(0, 1, 0, dx * rate)).premultiply(about(1, 0, 0, dy * rate)).normalize();
      if (this.onTurn) this.onTurn();
      this.redraw();
    }

    get mmPerPixel() { return (2 * this.half) / this.height; }

    move(dx, dy) {
      const back = this.turn.clone().inverse();
      this.target.sub(new Vector3(dx, -dy, 0).multiplyScalar(this.mmPerPixel).applyQuaternion(back));
      this.redraw();
    }

    // What lies at (x, y) stays there.
    zoom(factor, x = this.width / 2, y = this.height / 2) {
      const half = Math.min(this.reach * 4, Math.max(this.reach / 400, this.half / factor));
      const grown = 1 - half / this.half;
      this.move(-(x - this.width / 2) * grown, -(y - this.height / 2) * grown);
      this.half = half;
      this.redraw();
    }

    // In the part's frame.
    rayAt(x, y) {
      const back = this.turn.clone().inverse(), mm = this.mmPerPixel;
      const origin = new Vector3((x - this.width / 2) * mm, (this.height / 2 - y) * mm, 2 * this.reach);
      return new THREE.Ray(origin.applyQuaternion(back).add(this.target), new Vector3(0, 0, -1).applyQuaternion(back));
    }

    // How far along a ray the metal begins.
    metalAlong(ray) {
      const caster = new THREE.Raycaster();
      this.place();
      this.part.updateMatrixWorld(true);
      caster.ray.copy(ray).applyMatrix4(this.part.matrixWorld);
      const hit = caster.intersectObject(this.body)[0];
      return hit ? hit.distance : Infinity;
    }

    // On the screen; `towards` is over 0 where a direction looks at the viewer.
    seen(point) {
      const at = point.clone().sub(this.target).applyQuaternion(this.turn).multiplyScalar(1 / this.mmPerPixel);
      return {x: this.width / 2 + at.x, y: this.height / 2 - at.y};
    }
    towards(direction) { return direction.clone().applyQuaternion(this.turn).z; }

    // What lies farther back is darker: so steps of the metal show from straight above, too.
    shade(off) {
      const {least, size} = this.mesh;
      let low = Infinity, high = -Infinity;
      for (let corner = 0; corner < 8; ++corner) {
        const at = new Vector3(...least.map((value, i) => value + (corner >> i & 1) * size[i]));
        const deep = at.sub(this.target).applyQuaternion(this.turn).z;
        low = Math.min(low, deep), high = Math.max(high, deep);
      }
      this.scene.fog.near = off - high;
      this.scene.fog.far = off - high + 3.2 * (high - low);
    }

    place() {
      this.part.quaternion.copy(this.turn);
      this.part.position.copy(this.target).applyQuaternion(this.turn).negate();
    }

    redraw() {
      if (this.waits) return;
      this.waits = true;
      requestAnimationFrame(() => { this.waits = false; this.draw(); });
    }

    draw() {
      const wide = (this.half * this.width) / this.height, deep = 3 * this.reach;
      // From far off, since the reflections are reckoned from the way to each point.
      const off = 200 * this.reach;
      this.camera.position.z = off;
      this.shade(off);
      Object.assign(this.camera, {left: -wide, right: wide, top: this.half, bottom: -this.half, near: off - deep, far: off + deep});
      this.camera.updateProjectionMatrix();
      this.place();
      const style = getComputedStyle(document.documentElement);
      const lift = Number(style.getPropertyValue("--lift"));
      this.body.material.color.set(this.metal).lerp(new THREE.Color(0xffffff), lift);
      this.ink.color.set(style.getPropertyValue("--edge").trim());
      // From where a thread's crests stand some ten pixels apart.
      this.fineLines.visible = this.mmPerPixel < 0.08;
      this.lit.material.color.set(style.getPropertyValue("--mark").trim());
      this.renderer.render(this.scene, this.camera);
      if (this.afterwards) this.afterwards(style);
    }
  };
}
