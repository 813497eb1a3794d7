package ferrule.drawing;

/**
 * One cross-section of a {@link Sweep}: a disc.
 *
 * @param at the middle, in mm
 * @param along the direction of the axis there, of length 1
 * @param radius the outer radius in mm, at least 0
 * @param crease whether the outline has a corner here, so that a line is drawn around the body
 */
public record Station(Vec at, Vec along, double radius, boolean crease) {

  /** Checks the radius. */
  public Station {
    if (!(radius >= 0)) {
      throw new IllegalArgumentException("a radius is at least 0 mm; given " + radius);
    }
  }

  Station in(Frame frame) {
    return new Station(frame.point(at), frame.direction(along), radius, crease);
  }

  Station moved(Vec by) {
    return new Station(at.plus(by), along, radius, crease);
  }
}
