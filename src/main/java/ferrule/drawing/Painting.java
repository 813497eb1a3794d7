package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The painted pieces of a scene in order, before colours and marks are given: neighbouring pieces of one part and
 * material are one stroke of work.
 */
record Painting(List<Layer> layers) {

  /**
   * What becomes one group of the picture.
   *
   * @param part the number of the part in the scene
   * @param art the SVG elements, with classes for tones
   * @param silhouette the path data of all that it covers
   */
  record Layer(int part, Material material, String art, String silhouette) {}

  static Painting of(Scene scene, boolean shaded) {
    List<Layer> layers = new ArrayList<>();
    StringBuilder out = new StringBuilder();
    Sheet sheet = new Sheet(shaded, scene.projection().scale(), out);
    List<Piece> pieces = joined(scene.pieces());
    for (int i = 0; i < pieces.size(); i++) {
      Piece p = pieces.get(i);
      sheet.paint(p, scene.isGhost(p.part()));
      boolean last = i + 1 == pieces.size()
          || pieces.get(i + 1).part() != p.part() || pieces.get(i + 1).material() != p.material();
      if (last && out.length() > 0) {
        layers.add(new Layer(p.part(), p.material(), out.toString(), sheet.takeSilhouette()));
        out.setLength(0);
      }
    }
    return new Painting(List.copyOf(layers));
  }

  /** The numbers of the parts of which anything is in the picture. */
  Set<Integer> parts() {
    return layers.stream().map(Layer::part).collect(Collectors.toSet());
  }

  /** Pieces of one tube that follow one another in painting order are one piece again. */
  private static List<Piece> joined(List<Piece> pieces) {
    List<Piece> result = new ArrayList<>();
    for (Piece p : pieces) {
      int last = result.size() - 1;
      if (last >= 0 && result.get(last).meets(p)) {
        result.set(last, result.get(last).joined(p));
      } else {
        result.add(p);
      }
    }
    return result;
  }
}
