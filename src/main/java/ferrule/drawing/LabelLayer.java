package ferrule.drawing;

import ferrule.glossary.ConceptId;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The labels of a picture without the picture, so that a page can change the one and keep the other.
 *
 * @param viewBox the view box of a picture with these labels
 * @param svg the group of the labels
 * @param numbers the numbers beside the parts, if numbers were asked for
 */
public record LabelLayer(String viewBox, String svg, Map<ConceptId, Integer> numbers) {

  /**
   * A picture without labels with these labels laid on it.
   *
   * @param picture the source of the picture that the labels belong to
   */
  public String laidOn(String picture) {
    int end = picture.lastIndexOf("</svg>");
    return (picture.substring(0, end) + svg + picture.substring(end))
        .replaceFirst("viewBox=\"[^\"]*\"", "viewBox=\"" + viewBox + "\"");
  }

  /** Copies the numbers, keeping their order. */
  public LabelLayer {
    numbers = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(numbers));
  }
}
