package ferrule.drawing;

/**
 * What is drawn in one go: a solid, or a stretch of one if it had to be divided so that something else can lie between.
 *
 * @param part the number of the part in the scene
 * @param material its look
 * @param form its form on the picture
 * @param from the first station of a tube's stretch; 0 for flat bodies
 * @param to the last station of a tube's stretch; 0 for flat bodies
 */
record Piece(int part, Material material, Form form, int from, int to) {

  /** A solid on the picture. */
  sealed interface Form permits Round, Flat {}

  /** A sweep on the picture. */
  record Round(Sweep sweep, Tube tube, double scale) implements Form {}

  /** A body of flat faces on the picture. */
  record Flat(Facets facets) implements Form {}

  /** The piece that is a whole solid. */
  static Piece whole(int part, Shape shape, Projection projection) {
    if (shape.solid() instanceof Sweep sweep) {
      Tube tube = new Tube(sweep, projection);
      return new Piece(part, shape.material(), new Round(sweep, tube, projection.scale()), 0, tube.size - 1);
    }
    Facets facets = (Facets) shape.solid();
    return new Piece(part, shape.material(), new Flat(onPicture(facets, projection)), 0, 0);
  }

  private static Facets onPicture(Facets facets, Projection p) {
    return Facets.of(facets.at(p.scale()).stream()
        .map(f -> new Facets.Face(f.corners().stream().map(p::point).toList(), p.direction(f.outward()), f.rim()))
        .toList());
  }

  /** Whether another piece goes on where this one ends. */
  boolean meets(Piece next) {
    return form == next.form && form instanceof Round && (to == next.from || from == next.to) && !foldsAt(next);
  }

  /** Whether the bend between them points so much at the viewer that one must be painted over the other. */
  private boolean foldsAt(Piece next) {
    Tube tube = ((Round) form).tube();
    int at = to == next.from ? to : from;
    boolean bends = at > 0 && at + 1 < tube.size && Math.abs(tube.lean[at - 1] - tube.lean[at + 1]) > 1e-6;
    return bends && Math.abs(tube.lean[at]) > 0.7;
  }

  /** This piece and the one that it meets, as one. */
  Piece joined(Piece next) {
    return new Piece(part, material, form, Math.min(from, next.from), Math.max(to, next.to));
  }

  /** Whether it can be divided further. */
  boolean isDivisible() {
    return form instanceof Round && to - from >= 2;
  }
}
