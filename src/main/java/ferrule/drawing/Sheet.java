package ferrule.drawing;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Paints pieces as SVG elements: for each a dark base, the bands of light upon it, and its outlines. Line style leaves
 * out the bands.
 */
final class Sheet {

  private static final double END_ON = 0.02;
  private static final double OVERLAP = 0.8;
  private static final int GLASS_TONE = 7;
  private static final double WIRE_RADIUS = 1.1;
  private static final int WIRE_TONE = 8;
  private static final double CREASE_SPACING = 1.8;
  private static final double CHORD_ERROR = 0.18;
  /** With fewer px for each mm a picture shows so much that smaller errors would only make it heavy. */
  private static final double COARSE_SCALE = 5.5;
  private static final double SMALL_SCALE = 2.5;
  /** How far in px a point of an outline may be left out. */
  private static final double TOLERANCE = 0.2;
  private static final double SMALL_TOLERANCE = 0.34;
  private static final double COARSE_CHORD_ERROR = 0.36;
  /** A round body of at least this radius in px has half tones between its tones, so that no steps show. */
  private static final double HALF_TONE_RADIUS = 32;
  private static final double GLEAM_RADIUS = 5;

  private final boolean shaded;
  private final boolean coarse;
  private final double tolerance;
  private boolean glass;
  private final StringBuilder out;
  private final StringBuilder silhouette = new StringBuilder();

  /**
   * A sheet that writes to a builder.
   *
   * @param shaded whether to lay bands of light on the bodies
   * @param scale px of the picture for each mm
   */
  Sheet(boolean shaded, double scale, StringBuilder out) {
    this.shaded = shaded;
    this.out = out;
    coarse = scale < COARSE_SCALE;
    tolerance = scale < SMALL_SCALE ? SMALL_TOLERANCE : TOLERANCE;
  }

  private PathData path() {
    return new PathData(tolerance);
  }

  /**
   * Paints one piece.
   *
   * @param asGlass whether only its outlines and a breath of colour are painted
   */
  void paint(Piece piece, boolean asGlass) {
    glass = asGlass;
    if (piece.form() instanceof Piece.Round round) {
      new RoundPainter(piece, round).paint();
    } else if (piece.form() instanceof Piece.Flat flat) {
      paintFlat(flat.facets(), piece.material() == Material.VOID);
    }
  }

  /** The base outlines of all that was painted since the last call, as path data for an overlay. */
  String takeSilhouette() {
    String s = silhouette.toString();
    silhouette.setLength(0);
    return s;
  }

  private void base(PathData data, int tone) {
    base(data, tone, "");
  }

  /** A fill that belongs to the silhouette; the edge is the class of the line around it, or empty. */
  private void base(PathData data, int tone, String edge) {
    silhouette.append(data);
    fill(data, tone, edge);
  }

  private void fill(PathData data, int tone, String edge) {
    if (!data.isEmpty()) {
      out.append("<path class=\"k").append(!shaded ? Tones.COUNT - 1 : glass ? GLASS_TONE : tone)
          .append(edge.isEmpty() ? "" : " ").append(edge).append("\" d=\"").append(data).append("\"/>");
    }
  }

  /** Half of a tone over what lies below it. */
  private void halfFill(PathData data, int tone) {
    if (!data.isEmpty()) {
      out.append("<path class=\"k").append(tone).append("\" fill-opacity=\".5\" d=\"").append(data).append("\"/>");
    }
  }

  private void stroke(PathData data, String style) {
    if (!data.isEmpty()) {
      out.append("<path class=\"").append(style).append("\" d=\"").append(data).append("\"/>");
    }
  }

  private void paintFlat(Facets facets, boolean dark) {
    List<Facets.Face> seen = new ArrayList<>();
    for (Facets.Face f : facets.faces()) {
      if (f.outward().z() > 0.01) {
        seen.add(f);
      }
    }
    seen.sort((a, b) -> Double.compare(depth(a), depth(b)));
    PathData run = path();
    int tone = -1;
    for (Facets.Face f : seen) {
      int own = dark ? 0 : Tones.of(f.outward());
      if (own != tone) {
        base(run, tone);
        run = path();
        tone = own;
      }
      outline(f, run);
    }
    base(run, tone);
    stroke(edges(seen), "o");
  }

  private static double depth(Facets.Face f) {
    return f.corners().stream().mapToDouble(Vec::z).average().orElse(0);
  }

  private static void outline(Facets.Face f, PathData d) {
    Vec first = f.corners().get(0);
    d.move(first.x(), first.y());
    for (Vec c : f.corners().subList(1, f.corners().size())) {
      d.line(c.x(), c.y());
    }
    d.close();
  }

  /** An edge of a body, the same from both of its faces. */
  private record Edge(Vec a, Vec b) {
    static Edge of(Vec a, Vec b) {
      boolean inOrder = a.x() < b.x() || a.x() == b.x() && (a.y() < b.y() || a.y() == b.y() && a.z() <= b.z());
      return inOrder ? new Edge(a, b) : new Edge(b, a);
    }
  }

  /**
   * Draws the edges of a body, each once, in as long lines as follow one another: those that are edges of the body, and
   * those where what is seen ends because the body turns away.
   *
   * @param faces the faces that are seen
   */
  private PathData edges(List<Facets.Face> faces) {
    Map<Edge, Integer> sides = new HashMap<>();
    for (Facets.Face f : faces) {
      for (int i = 0; i < f.corners().size(); i++) {
        sides.merge(Edge.of(f.corners().get(i), f.corners().get((i + 1) % f.corners().size())), 1, Integer::sum);
      }
    }
    Set<Edge> drawn = new HashSet<>();
    Map<Vec, List<Vec>> from = new LinkedHashMap<>();
    for (Facets.Face f : faces) {
      int n = f.corners().size();
      for (int i = 0; i < n; i++) {
        Vec a = f.corners().get(i);
        Vec b = f.corners().get((i + 1) % n);
        Edge edge = Edge.of(a, b);
        if ((f.rim().get(i) || sides.get(edge) == 1) && drawn.add(edge)) {
          from.computeIfAbsent(a, k -> new ArrayList<>()).add(b);
        }
      }
    }
    PathData lines = path();
    for (Vec start : from.keySet()) {
      while (!from.get(start).isEmpty()) {
        follow(start, from, lines);
      }
    }
    return lines;
  }

  private static void follow(Vec start, Map<Vec, List<Vec>> from, PathData lines) {
    lines.move(start.x(), start.y());
    List<Vec> next = from.get(start);
    while (next != null && !next.isEmpty()) {
      Vec to = next.remove(next.size() - 1);
      lines.line(to.x(), to.y());
      next = from.get(to);
    }
  }

  /** Paints a stretch of a sweep. */
  private final class RoundPainter {
    private final Piece piece;
    private final Sweep sweep;
    private final Tube t;
    private final double scale;
    private final boolean startIsEnd;
    private final boolean endIsEnd;
    private double overlap;
    private double faceTone = -1;

    RoundPainter(Piece piece, Piece.Round round) {
      this.piece = piece;
      this.sweep = round.sweep();
      this.t = round.tube().within(piece.from(), piece.to());
      this.scale = round.scale();
      startIsEnd = piece.from() == 0 && !sweep.closed();
      endIsEnd = piece.to() == t.size - 1 && !sweep.closed();
    }

    void paint() {
      if (sweep.turned()) {
        paintTurned();
      } else {
        chain(piece.from(), piece.to(), startIsEnd, endIsEnd);
        if (startIsEnd && t.lean[0] < -END_ON) {
          end(0, sweep.startBore());
        }
        if (endIsEnd && t.lean[t.size - 1] > END_ON) {
          end(t.size - 1, sweep.endBore());
        }
      }
    }

    /** From the far end to the near one: stretches seen from the side, and shoulders seen from their face. */
    private void paintTurned() {
      boolean forward = t.lean[piece.from()] >= 0;
      int first = forward ? piece.from() : piece.to();
      int last = forward ? piece.to() : piece.from();
      int step = forward ? 1 : -1;
      int begun = first;
      boolean open = false;
      for (int i = first; i != last; i += step) {
        if (facesViewer(i, i + step)) {
          if (begun != i) {
            sideRun(begun, i, forward);
            faceTone = -1;
          }
          String line = open || begun != i ? t.crease[i] ? "d" : "" : "e";
          face(i, slopeNormal(i, i + step), line);
          if (line.isEmpty() && begun != i) {
            // where a side runs over into a shoulder without a corner, the far half of the rim is the outline
            PathData rim = path();
            arc(rim, i, Math.PI / 2, 3 * Math.PI / 2, true);
            stroke(rim, "o");
          }
          open = true;
          begun = i + step;
        }
      }
      if (begun != last) {
        sideRun(begun, last, forward);
      }
      nearEnd(forward, last);
    }

    private void nearEnd(boolean forward, int last) {
      boolean isEnd = forward ? endIsEnd : startIsEnd;
      if (!isEnd || Math.abs(t.lean[last]) <= END_ON) {
        return;
      }
      if (sweep.mouth().isPresent()) {
        if (forward) {
          inside();
        }
        return;
      }
      end(last, forward ? sweep.endBore() : sweep.startBore());
    }

    private void sideRun(int a, int b, boolean forward) {
      int from = Math.min(a, b);
      int to = Math.max(a, b);
      boolean open = sweep.mouth().isPresent() && forward && t.lean[to] > END_ON;
      if (open) {
        to = lastSeenFromOutside(from, to);
        if (to == from) {
          return;
        }
      }
      chain(from, to, from == 0 || forward, !open && (to == t.size - 1 || !forward));
      PathData creases = path();
      int drawn = from;
      for (int i = from + 1; i < to; i++) {
        if (t.crease[i] && isApart(drawn, i) && isApart(i, to)) {
          arc(creases, i, -Math.PI / 2, Math.PI / 2, true);
          drawn = i;
        }
      }
      stroke(creases, "c");
    }

    /** Whether lines at two stations would be told apart. */
    private boolean isApart(int i, int j) {
      return Math.hypot(t.x[i] - t.x[j], t.y[i] - t.y[j]) + Math.abs(t.r[i] - t.r[j]) * 0.5 > CREASE_SPACING;
    }

    /** Where a flare that opens toward the viewer turns its outside away. */
    private int lastSeenFromOutside(int from, int to) {
      int i = from;
      while (i < to && (t.r[i + 1] - t.r[i]) * t.lean[i] < axisDistance(i, i + 1) * t.flat[i]) {
        i++;
      }
      return i;
    }

    private boolean facesViewer(int far, int near) {
      double lean = Math.abs(t.lean[far]);
      double drop = t.r[far] - t.r[near];
      if (lean <= END_ON || drop <= 0) {
        return false;
      }
      double run = axisDistance(far, near);
      return drop * lean > run * t.flat[far];
    }

    private double axisDistance(int i, int j) {
      double a = t.x[i] - t.x[j];
      double b = t.y[i] - t.y[j];
      double c = t.z[i] - t.z[j];
      return Math.sqrt(a * a + b * b + c * c);
    }

    /** The normal of a slope between two stations where it looks straight out along the axis' lean. */
    private Vec slopeNormal(int far, int near) {
      double drop = t.r[far] - t.r[near];
      double run = axisDistance(far, near);
      double l = Math.hypot(drop, run);
      double lean = t.lean[far] >= 0 ? 1 : -1;
      Vec axis = new Vec(t.dx[far] * t.flat[far], t.dy[far] * t.flat[far], t.lean[far]).times(lean);
      Vec lit = new Vec(Tube.LIGHT.x(), Tube.LIGHT.y(), 0).unit();
      return axis.times(drop / l).plus(lit.times(run / l * 0.6)).unit();
    }

    /** A shoulder seen from its face; of the same light as the one around it, it needs no painting of its own. */
    private void face(int i, Vec normal, String line) {
      double tone = Tones.inHalves(normal);
      if (tone == faceTone && line.isEmpty()) {
        return;
      }
      faceTone = tone;
      PathData ellipse = ellipse(i, t.r[i]);
      base(ellipse, (int) tone, line);
      if (shaded && !glass && tone > (int) tone) {
        halfFill(ellipse, (int) tone + 1);
      }
    }

    private void end(int i, double bore) {
      Vec normal = new Vec(t.dx[i] * t.flat[i], t.dy[i] * t.flat[i], t.lean[i]).times(Math.signum(t.lean[i]));
      face(i, normal, "e");
      if (bore > 0 && !glass) {
        PathData hole = ellipse(i, bore * scale);
        out.append("<path class=\"vo\" d=\"").append(hole).append("\"/>");
      }
    }

    /** The inside of a bell's stretch: rings that go deeper, each within all openings before it. */
    private void inside() {
      List<Station> mouth = sweep.mouth().orElseThrow();
      boolean atRim = mouth.size() < 2 || mouth.get(0).at().distance(mouth.get(mouth.size() - 1).at()) < 1e-9;
      List<double[]> window = ellipsePoints(t.size - 1, t.r[t.size - 1]);
      if (!atRim) {
        for (int k = mouth.size() - 1; k >= 0; k -= 2) {
          window = Convex.clip(window, mouthEllipse(mouth, k));
        }
      }
      List<List<double[]>> windows = new ArrayList<>(List.of(window));
      for (int i = t.size - 1; i > piece.from() && !windows.get(windows.size() - 1).isEmpty(); i--) {
        windows.add(Convex.clip(ellipsePoints(i - 1, t.r[i - 1]), windows.get(windows.size() - 1)));
      }
      List<double[]> deepest = windows.get(windows.size() - 1);
      double painted = -1;
      for (int k = 0; k + 1 < windows.size(); k++) {
        double tone = insideTone(t.size - 1 - k);
        if (tone != painted) {
          ring(windows.get(k), deepest, tone, painted < 0);
          painted = tone;
        }
      }
      stroke(polygon(window), atRim ? "o" : "c");
    }

    /** All that is seen through one opening but not through another. */
    private void ring(List<double[]> around, List<double[]> within, double tone, boolean outermost) {
      PathData ring = append(append(path(), around), within);
      if (outermost) {
        silhouette.append(ring);
      }
      String data = "\" fill-rule=\"evenodd\" d=\"" + ring + "\"/>";
      out.append("<path class=\"k").append(shaded ? (int) tone : Tones.COUNT - 1).append(data);
      if (shaded && tone > (int) tone) {
        out.append("<path class=\"k").append((int) tone + 1).append("\" fill-opacity=\".5").append(data);
      }
    }

    private List<double[]> mouthEllipse(List<Station> mouth, int k) {
      // A bell's axis is straight: its further stations lie on the line of its own last two.
      Station own = sweep.stations().get(t.size - 1);
      double ahead = mouth.get(k).at().distance(own.at()) * scale;
      double r = mouth.get(k).radius() * scale;
      int i = t.size - 1;
      double cx = t.x[i] + t.dx[i] * t.flat[i] * ahead;
      double cy = t.y[i] + t.dy[i] * t.flat[i] * ahead;
      return Convex.ellipse(cx, cy, -t.dy[i] * r, t.dx[i] * r, t.lean[i] * t.dx[i] * r, t.lean[i] * t.dy[i] * r);
    }

    /** The tone of the inside, in halves. */
    private double insideTone(int i) {
      double run = axisDistance(i, i - 1);
      double rise = t.r[i] - t.r[i - 1];
      double facing = rise / Math.hypot(run, rise);
      return Math.max(1, Math.min(Tones.COUNT - 2, Math.round(2 + facing * 2 * (Tones.COUNT - 2.5)) / 2.0));
    }

    private List<double[]> ellipsePoints(int i, double r) {
      return Convex.ellipse(
          t.x[i], t.y[i], -t.dy[i] * r, t.dx[i] * r, t.lean[i] * t.dx[i] * r, t.lean[i] * t.dy[i] * r);
    }

    private PathData ellipse(int i, double r) {
      return polygon(ellipsePoints(i, r));
    }

    private PathData polygon(List<double[]> points) {
      return append(path(), points);
    }

    private PathData append(PathData d, List<double[]> points) {
      for (int k = 0; k < points.size(); k++) {
        double[] p = points.get(k);
        if (k == 0) {
          d.move(p[0], p[1]);
        } else {
          d.line(p[0], p[1]);
        }
      }
      return points.isEmpty() ? d : d.close();
    }

    /** A stretch seen from its side: base, bands, outlines. */
    private void chain(int from, int to, boolean startLine, boolean endLine) {
      int n = to - from + 1;
      double[] low = new double[n];
      double[] high = new double[n];
      double widest = 0;
      for (int i = 0; i < n; i++) {
        low[i] = -Math.PI / 2;
        high[i] = Math.PI / 2;
        widest = Math.max(widest, t.r[from + i]);
      }
      boolean whole = startLine && endLine;
      boolean wire = widest < WIRE_RADIUS;
      overlap = 0;
      base(band(from, low, high), wire ? WIRE_TONE : 0, whole ? "e" : "");
      overlap = OVERLAP;
      if (wire) {
        return;
      }
      if (shaded && !glass && piece.material() != Material.VOID) {
        for (int tone : Tones.forRadius(widest)) {
          if (widest >= HALF_TONE_RADIUS && spread(from, low, high, tone - 0.5)) {
            halfFill(band(from, low, high), tone);
          }
          if (spread(from, low, high, tone)) {
            fill(band(from, low, high), tone, "");
          }
        }
        if (widest >= GLEAM_RADIUS && sweep.mouth().isEmpty()) {
          fill(gleam(from, low, high), 3, "");
        }
      }
      if (whole) {
        return;
      }
      PathData lines = path();
      side(lines, from, to, -1);
      if (endLine) {
        arc(lines, to, -Math.PI / 2, Math.PI / 2, true);
      }
      side(lines, from, to, 1);
      if (startLine) {
        arc(lines, from, -Math.PI / 2, Math.PI / 2, true);
      }
      stroke(lines, "o");
    }

    /** How far round a stretch a tone reaches; false if nowhere. */
    private boolean spread(int from, double[] low, double[] high, double tone) {
      boolean any = false;
      for (int i = 0; i < low.length; i++) {
        double b = t.bright[from + i];
        double reach = Tones.reach(tone, t.power[from + i]);
        low[i] = clamp(reach < 0 ? b : b - reach);
        high[i] = clamp(reach < 0 ? b : b + reach);
        any |= high[i] - low[i] > 0.02;
      }
      return any;
    }

    /** Light thrown back onto the shadow side, close to the outline. */
    private PathData gleam(int from, double[] low, double[] high) {
      for (int i = 0; i < low.length; i++) {
        double side = t.bright[from + i] > 0 ? -1 : 1;
        double lit = Math.max(0, (t.power[from + i] - 0.7) / 0.3);
        double strength = Math.min(1, Math.abs(t.bright[from + i]) / 0.35) * lit;
        double a = side * Math.toRadians(68);
        double b = side * Math.toRadians(68 + 11 * strength);
        low[i] = Math.min(a, b);
        high[i] = Math.max(a, b);
      }
      return band(from, low, high);
    }

    /** An outline along one side. Where it would run back against the tube it is hidden by the tube itself. */
    private void side(PathData d, int from, int to, int sign) {
      double lastX = t.px(from, sign, 0, t.r[from]);
      double lastY = t.py(from, sign, 0, t.r[from]);
      boolean down = false;
      for (int i = from + 1; i <= to; i++) {
        double px = t.px(i, sign, 0, t.r[i]);
        double py = t.py(i, sign, 0, t.r[i]);
        boolean onward = (px - lastX) * (t.dx[i] + t.dx[i - 1]) + (py - lastY) * (t.dy[i] + t.dy[i - 1]) >= -1e-6;
        if (onward && !down) {
          d.move(lastX, lastY);
        }
        if (onward) {
          d.line(px, py);
        }
        down = onward;
        lastX = px;
        lastY = py;
      }
    }

    private PathData band(int from, double[] low, double[] high) {
      PathData d = path();
      int n = low.length;
      for (int i = 0; i < n; i++) {
        point(d, from + i, low[i], i == 0);
      }
      arc(d, from + n - 1, low[n - 1], high[n - 1], false);
      for (int i = n - 1; i >= 0; i--) {
        point(d, from + i, high[i], false);
      }
      arc(d, from, high[0], low[0], false);
      return d.close();
    }

    /** At a cut the piece goes on a little under its neighbour, so that no seam shows. */
    private void point(PathData d, int i, double angle, boolean move) {
      double over = i == piece.from() && !startIsEnd ? -overlap : i == piece.to() && !endIsEnd ? overlap : 0;
      double px = t.px(i, Math.sin(angle), Math.cos(angle), t.r[i]) + over * t.dx[i] * t.flat[i];
      double py = t.py(i, Math.sin(angle), Math.cos(angle), t.r[i]) + over * t.dy[i] * t.flat[i];
      if (move) {
        d.move(px, py);
      } else {
        d.line(px, py);
      }
    }

    /** Along the near half of a station's rim. */
    private void arc(PathData d, int i, double from, double to, boolean move) {
      double bulge = Math.abs(t.lean[i]) * t.r[i];
      double error = coarse ? COARSE_CHORD_ERROR : CHORD_ERROR;
      double step = bulge <= error ? Math.PI : 2 * Math.acos(1 - error / bulge);
      int parts = (int) Math.max(1, Math.ceil(Math.abs(to - from) / step));
      for (int k = move ? 0 : 1; k <= parts; k++) {
        point(d, i, from + (to - from) * k / parts, move && k == 0);
      }
    }

    private static double clamp(double angle) {
      return Math.max(-Math.PI / 2, Math.min(Math.PI / 2, angle));
    }
  }
}
