package ferrule.drawing;

import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Map;

/**
 * A picture.
 *
 * <p>In its SVG every part is one or more groups {@code <g class="part" data-shape="7">}: more than one if something
 * else passes between its pieces. All groups with the same number are the same part, and {@code shapes.get(7)} says
 * which. The first group of a part of which anything is seen has {@code data-at="x y"}, a visible point of it.
 *
 * @param svg the source, one {@code svg} element
 * @param width the width of the drawing in px, always {@value Studio#WIDTH}, the labels beside it not counted
 * @param height the height of the drawing in px, the labels not counted
 * @param shapes the parts by the number of their shape
 * @param visible how much of each of these parts is seen
 * @param numbers the numbers beside the parts, if numbers were asked for; otherwise empty
 */
public record Picture(
    String svg,
    double width,
    double height,
    List<ConceptId> shapes,
    Map<ConceptId, Visible> visible,
    Map<ConceptId, Integer> numbers) {

  /** Copies the collections. */
  public Picture {
    shapes = List.copyOf(shapes);
    visible = Map.copyOf(visible);
    numbers = Map.copyOf(numbers);
  }
}
