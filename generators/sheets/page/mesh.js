// The part's triangles out of the page's text: corners, rounded normals and the edges that a drawing would show.
const fitup = {};

// Faces that meet at less than this are one round surface; at more there is an edge.
fitup.crease = Math.cos((28 * Math.PI) / 180);

fitup.numbers = text => text.trim().split(/\s+/).map(Number);

fitup.bytesOf = text => {
  const letters = atob(text.trim());
  const bytes = new Uint8Array(letters.length);
  for (let i = 0; i < letters.length; ++i) bytes[i] = letters.charCodeAt(i);
  return bytes;
};

fitup.readMesh = element => {
  const count = Number(element.dataset.vertices), triangles = Number(element.dataset.triangles);
  const least = fitup.numbers(element.dataset.least), size = fitup.numbers(element.dataset.size);
  const bytes = fitup.bytesOf(element.textContent);
  const view = new DataView(bytes.buffer);
  const points = new Float32Array(3 * count);
  for (let i = 0; i < 3 * count; ++i) points[i] = least[i % 3] + (view.getUint16(2 * i, true) / 65535) * size[i % 3];
  const start = 4 * Math.ceil((6 * count) / 4), wide = count > 65536;
  const corners = new Uint32Array(3 * triangles);
  for (let i = 0; i < corners.length; ++i)
    corners[i] = wide ? view.getUint32(start + 4 * i, true) : view.getUint16(start + 2 * i, true);
  return {points, corners, least, size};
};

// Of each triangle its normal, as long as twice its area.
fitup.faceNormals = ({points, corners}) => {
  const normals = new Float32Array(corners.length);
  for (let t = 0; t < corners.length; t += 3) {
    const a = 3 * corners[t], b = 3 * corners[t + 1], c = 3 * corners[t + 2];
    const ux = points[b] - points[a], uy = points[b + 1] - points[a + 1], uz = points[b + 2] - points[a + 2];
    const vx = points[c] - points[a], vy = points[c + 1] - points[a + 1], vz = points[c + 2] - points[a + 2];
    normals[t] = uy * vz - uz * vy;
    normals[t + 1] = uz * vx - ux * vz;
    normals[t + 2] = ux * vy - uy * vx;
  }
  return normals;
};

fitup.isSmooth = (normals, s, t) => {
  const dot = normals[s] * normals[t] + normals[s + 1] * normals[t + 1] + normals[s + 2] * normals[t + 2];
  return dot > fitup.crease * Math.hypot(normals[s], normals[s + 1], normals[s + 2]) *
                   Math.hypot(normals[t], normals[t + 1], normals[t + 2]);
};

// Triangles round each vertex, as one list with where each vertex' share starts.
fitup.neighbours = ({points, corners}) => {
  const starts = new Uint32Array(points.length / 3 + 1), list = new Uint32Array(corners.length);
  for (const corner of corners) ++starts[corner + 1];
  for (let i = 1; i < starts.length; ++i) starts[i] += starts[i - 1];
  const next = starts.slice();
  for (let i = 0; i < corners.length; ++i) list[next[corners[i]]++] = i - (i % 3);
  return {starts, list};
};

// A normal for every corner: the mean over the triangles round it that belong to the same surface.
fitup.cornerNormals = (mesh, faces) => {
  const {starts, list} = fitup.neighbours(mesh);
  const normals = new Float32Array(3 * mesh.corners.length);
  for (let i = 0; i < mesh.corners.length; ++i) {
    const own = i - (i % 3), vertex = mesh.corners[i];
    let x = 0, y = 0, z = 0;
    for (let k = starts[vertex]; k < starts[vertex + 1]; ++k) {
      const other = list[k];
      if (other !== own && !fitup.isSmooth(faces, own, other)) continue;
      x += faces[other], y += faces[other + 1], z += faces[other + 2];
    }
    const length = Math.hypot(x, y, z) || 1;
    normals.set([x / length, y / length, z / length], 3 * i);
  }
  return normals;
};

fitup.cornerPoints = ({points, corners}, chosen) => {
  const list = chosen || corners, places = new Float32Array(3 * list.length);
  for (let i = 0; i < list.length; ++i)
    for (let k = 0; k < 3; ++k) places[3 * i + k] = points[3 * list[i] + k];
  return places;
};

// Ends of the lines where two surfaces meet, as numbers of vertices.
fitup.edges = (mesh, faces) => {
  const {points, corners} = mesh, first = new Map(), ends = [];
  for (let i = 0; i < corners.length; ++i) {
    const own = i - (i % 3), a = corners[i], b = corners[own + ((i + 1) % 3)];
    const key = Math.min(a, b) * (points.length / 3) + Math.max(a, b);
    if (!first.has(key)) { first.set(key, own); continue; }
    if (!fitup.isSmooth(faces, own, first.get(key))) ends.push(a, b);
  }
  return ends;
};

// A cut thread has more lines than a picture takes from afar: those of such a mark apart from the others.
fitup.sortedEdges = (mesh, ends, marks) => {
  const most = 1000;
  const crowded = ends.length / 2 > most * marks.length ? marks : [];
  const point = new THREE.Vector3(), plain = [], fine = [];
  const holds = (mark, vertex) => mark.holds(point.fromArray(mesh.points, 3 * vertex));
  for (let i = 0; i < ends.length; i += 2) {
    const isFine = crowded.some(mark => holds(mark, ends[i]) && holds(mark, ends[i + 1]));
    (isFine ? fine : plain).push(ends[i], ends[i + 1]);
  }
  return {plain: fitup.cornerPoints(mesh, plain), fine: fitup.cornerPoints(mesh, fine)};
};
