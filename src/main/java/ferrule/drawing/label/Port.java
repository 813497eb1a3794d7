package ferrule.drawing.label;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * A place on the frame round the picture where a leader can end and a label can stand outside of it.
 *
 * @param side the side of the frame that it lies on
 * @param at where on it
 */
public record Port(Side side, Point at) {

  /**
   * The ports of a frame, evenly spaced and centred on each side, clockwise from the upper left corner.
   *
   * @param rowPitch distance between neighbours on the left and the right: a label's height with its gap, above 0
   * @param columnPitch distance between neighbours at the top and the bottom: a label's width with its gap, above 0
   */
  public static List<Port> along(Box frame, Set<Side> sides, double rowPitch, double columnPitch) {
    List<Port> ports = new ArrayList<>();
    for (Side side : Side.values()) {
      if (sides.contains(side)) {
        boolean upright = side.isUpright();
        addAlong(frame, side, upright ? frame.height() : frame.width(), upright ? rowPitch : columnPitch, ports);
      }
    }
    return ports;
  }

  private static void addAlong(Box frame, Side side, double length, double pitch, List<Port> ports) {
    int count = countAlong(length, pitch);
    double first = (length - (count - 1) * pitch) / 2;
    for (int i = 0; i < count; i++) {
      double clockwise = first + i * pitch;
      ports.add(new Port(side, on(frame, side, clockwise)));
    }
  }

  static int countAlong(double length, double pitch) {
    // a side that was grown to hold a whole number of labels must not lose one to rounding
    return (int) Math.floor(length / pitch + 1e-9);
  }

  private static Point on(Box frame, Side side, double clockwise) {
    return switch (side) {
      case TOP -> new Point(frame.x() + clockwise, frame.y());
      case RIGHT -> new Point(frame.right(), frame.y() + clockwise);
      case BOTTOM -> new Point(frame.right() - clockwise, frame.bottom());
      case LEFT -> new Point(frame.x(), frame.bottom() - clockwise);
    };
  }
}
