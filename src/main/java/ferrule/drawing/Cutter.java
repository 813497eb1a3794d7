package ferrule.drawing;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;

/**
 * Divides tubes where the painter's algorithm needs it before any comparison: where a tube goes into a wider one (the
 * part inside is hidden by the wider tube, the part outside is in front of that tube's end face), and where a bend
 * points straight at the viewer (its near half lies in front of its far half).
 */
final class Cutter {

  private static final double COAXIAL_MM = 0.8;
  private static final double PARALLEL = 0.97;
  private static final double END_ON = 0.8;

  private static final double CELL_MM = 32;

  /** A cube of space; mouths are looked for only in those that a tube passes. */
  private record Cell(int x, int y, int z) {
    static int number(double mm) {
      return (int) Math.floor(mm / CELL_MM);
    }

    static Cell of(Vec p) {
      return new Cell(number(p.x()), number(p.y()), number(p.z()));
    }
  }

  private final Map<Cell, List<Station>> mouths = new HashMap<>();

  /** A cutter that knows the ends of all these shapes' tubes. */
  Cutter(List<Shape> shapes) {
    for (Shape shape : shapes) {
      if (shape.solid() instanceof Sweep sweep && !sweep.closed()) {
        add(sweep.stations().get(0));
        add(sweep.stations().get(sweep.stations().size() - 1));
      }
    }
  }

  private void add(Station mouth) {
    mouths.computeIfAbsent(Cell.of(mouth.at()), c -> new ArrayList<>()).add(mouth);
  }

  private List<Station> mouthsAlong(Vec a, Vec b) {
    List<Station> found = new ArrayList<>();
    for (int x = low(a.x(), b.x()); x <= high(a.x(), b.x()); x++) {
      for (int y = low(a.y(), b.y()); y <= high(a.y(), b.y()); y++) {
        for (int z = low(a.z(), b.z()); z <= high(a.z(), b.z()); z++) {
          found.addAll(mouths.getOrDefault(new Cell(x, y, z), List.of()));
        }
      }
    }
    return found;
  }

  private static int low(double a, double b) {
    return Cell.number(Math.min(a, b) - COAXIAL_MM);
  }

  private static int high(double a, double b) {
    return Cell.number(Math.max(a, b) + COAXIAL_MM);
  }

  /** The pieces of a shape on the picture. */
  List<Piece> pieces(int part, Shape shape, Projection projection) {
    if (!(shape.solid() instanceof Sweep model)) {
      return List.of(Piece.whole(part, shape, projection));
    }
    Sweep sweep = Rounding.of(model, projection.scale());
    TreeSet<Integer> cuts = new TreeSet<>();
    Sweep cut = sweep.turned() && sweep.mouth().isPresent() ? sweep : withMouths(sweep, cuts);
    Piece whole = Piece.whole(part, new Shape(shape.part(), shape.material(), cut, shape.variants()), projection);
    if (!sweep.turned()) {
      endOn(((Piece.Round) whole.form()).tube(), cuts);
    }
    List<Piece> pieces = new ArrayList<>();
    int from = 0;
    for (int at : cuts) {
      if (at > from && at < whole.to()) {
        pieces.add(new Piece(part, whole.material(), whole.form(), from, at));
        from = at;
      }
    }
    pieces.add(new Piece(part, whole.material(), whole.form(), from, whole.to()));
    return pieces;
  }

  /** The sweep with a station at each end face that it passes through; their places are added to the cuts. */
  private Sweep withMouths(Sweep sweep, TreeSet<Integer> cuts) {
    List<Station> stations = new ArrayList<>();
    List<Station> own = sweep.stations();
    for (int i = 0; i < own.size(); i++) {
      stations.add(own.get(i));
      if (i + 1 < own.size()) {
        for (Station between : between(own.get(i), own.get(i + 1))) {
          cuts.add(stations.size());
          stations.add(between);
        }
      }
    }
    if (stations.size() == own.size()) {
      return sweep;
    }
    return sweep.with(stations);
  }

  private List<Station> between(Station a, Station b) {
    double length = a.at().distance(b.at());
    if (length < 1 || Math.abs(a.along().dot(b.along())) < 0.9999) {
      return List.of();
    }
    TreeSet<Double> shares = new TreeSet<>();
    for (Station mouth : mouthsAlong(a.at(), b.at())) {
      double share = mouth.at().minus(a.at()).dot(a.along()) / length;
      if (share > 0.2 / length && share < 1 - 0.2 / length
          && Math.abs(mouth.along().dot(a.along())) > PARALLEL
          && a.at().plus(a.along().times(share * length)).distance(mouth.at()) < COAXIAL_MM
          && mouth.radius() > a.radius() + (b.radius() - a.radius()) * share + 0.01) {
        shares.add(share);
      }
    }
    List<Station> found = new ArrayList<>();
    double last = -1;
    for (double share : shares) {
      if ((share - last) * length > 0.2) {
        double radius = a.radius() + (b.radius() - a.radius()) * share;
        found.add(new Station(a.at().plus(a.along().times(share * length)), a.along(), radius, false));
        last = share;
      }
    }
    return found;
  }

  private static void endOn(Tube tube, TreeSet<Integer> cuts) {
    for (int i = 1; i + 1 < tube.size; i++) {
      double here = Math.abs(tube.lean[i]);
      boolean peak = here > END_ON
          && here >= Math.abs(tube.lean[i - 1]) && here > Math.abs(tube.lean[i + 1]) + 1e-9;
      if (peak) {
        cuts.add(i);
      }
    }
  }
}
