package ferrule.drawing;

import ferrule.drawing.label.Box;
import ferrule.glossary.ConceptId;
import java.util.HashSet;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/** Puts a painting, marks and colours together into the source of one SVG element. */
final class SvgDocument {

  private static final int LEGEND_HEIGHT = 46;

  private final Scene scene;
  private final Painting painting;
  private final PictureRequest request;
  private final Map<Integer, Mark> marks;
  private final int[] numbers;
  private final Palette palette;
  private final Labeller labeller;
  private final Map<ConceptId, Visible> seen;
  private final Set<Integer> placed = new HashSet<>();
  private final StringBuilder out = new StringBuilder(1 << 16);

  /**
   * A document to be written.
   *
   * @param marks the marks by the number of the part in the scene
   * @param numbers the shape number of each part of the scene
   * @param seen how much of each part is seen
   */
  SvgDocument(Scene scene, Painting painting, PictureRequest request, Map<Integer, Mark> marks, int[] numbers,
      Labeller labeller, Map<ConceptId, Visible> seen) {
    this.scene = scene;
    this.seen = seen;
    this.labeller = labeller;
    this.painting = painting;
    this.request = request;
    this.marks = marks;
    this.numbers = numbers;
    palette = new Palette(request.finish());
  }

  String write() {
    Set<Integer> steps = steps();
    out.append("<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"fd ").append(look()).append("\" viewBox=\"")
        .append(viewBox(steps)).append("\">");
    hatches();
    out.append("<g transform=\"scale(.1)\"")
        .append(request.fixedColours() ? " stroke-linejoin=\"round\" stroke-linecap=\"round\">" : ">");
    scene.travels().forEach(this::travel);
    for (Painting.Layer layer : painting.layers()) {
      layer(layer);
    }
    out.append("</g>");
    out.append(labeller.svg());
    if (!steps.isEmpty()) {
      legend();
    }
    return out.append("</svg>").toString();
  }

  private String viewBox(Set<Integer> steps) {
    return labeller.viewBox(new Box(0, 0, Studio.WIDTH, scene.height() + (steps.isEmpty() ? 0 : LEGEND_HEIGHT)));
  }

  private String look() {
    return request.style() == Style.LINE ? "line" : "metal " + request.finish().key();
  }

  private Set<Integer> steps() {
    Set<Integer> steps = new TreeSet<>();
    marks.values().forEach(m -> {
      if (m instanceof Mark.Value v) {
        steps.add(v.step());
      }
    });
    return steps;
  }

  private void travel(Scene.Travel t) {
    String data = new PathData(0.2).move(t.from().x(), t.from().y()).line(t.to().x(), t.to().y()).toString();
    String path = "<path class=\"tr\" d=\"" + data + "\"/>";
    out.append(request.fixedColours() ? fixed(path, Material.BODY, null) : path);
  }

  private void layer(Painting.Layer layer) {
    Mark mark = marks.get(layer.part());
    out.append("<g class=\"part m-").append(layer.material().key()).append(markClass(mark))
        .append("\" data-shape=\"").append(numbers[layer.part()]).append('"')
        .append(place(layer.part()));
    if (scene.isGhost(layer.part())) {
      out.append(" fill-opacity=\".2\" stroke-opacity=\".7\"");
    }
    out.append('>').append(request.fixedColours() ? fixed(layer.art(), layer.material(), mark) : layer.art());
    hatch(mark).ifPresent(pattern -> out.append("<path fill=\"url(#").append(pattern).append(")\" d=\"")
        .append(layer.silhouette()).append("\"/>"));
    out.append("</g>");
  }

  /** On the first group of a part that is seen, where: a point for those who point at parts by keyboard. */
  private String place(int part) {
    Visible visible = seen.get(scene.parts().get(part));
    if (visible.areaPx() <= 0 || !placed.add(part)) {
      return "";
    }
    return String.format(Locale.ROOT, " data-at=\"%.0f %.0f\"", visible.anchor().x(), visible.anchor().y());
  }

  private static String markClass(Mark mark) {
    if (mark instanceof Mark.Lit) {
      return " lit";
    }
    if (mark instanceof Mark.Dimmed) {
      return " dim";
    }
    return mark instanceof Mark.Value v ? " v" + v.step() : "";
  }

  private java.util.Optional<String> hatch(Mark mark) {
    if (mark instanceof Mark.Value v && v.step() > 0) {
      return java.util.Optional.of("fd-h" + v.step());
    }
    if (mark instanceof Mark.Lit && request.style() == Style.LINE) {
      return java.util.Optional.of("fd-h3");
    }
    return java.util.Optional.empty();
  }

  /** Hatching, the denser the higher the step; the same in every picture, so that their ids may meet on a page. */
  private void hatches() {
    boolean any = marks.values().stream().anyMatch(m -> hatch(m).isPresent()) || !steps().isEmpty();
    if (!any) {
      return;
    }
    out.append("<defs>");
    for (int step = 1; step < Mark.Value.STEPS; step++) {
      int gap = 190 - 38 * step;
      out.append("<pattern id=\"fd-h").append(step).append("\" width=\"").append(gap).append("\" height=\"")
          .append(gap).append("\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path d=\"M0 0V")
          .append(gap).append("\" stroke=\"").append(palette.ink())
          .append("\" stroke-width=\"16\" stroke-opacity=\".75\"/></pattern>");
    }
    out.append("</defs>");
  }

  /** Five boxes from nothing to all, below the picture. */
  private void legend() {
    double y = scene.height() + 8;
    out.append("<g class=\"scale\">");
    for (int step = 0; step < Mark.Value.STEPS; step++) {
      int x = 30 + step * 150;
      String box = "M" + x * 10 + " " + (int) (y * 10) + "h300v200h-300z";
      String colour = request.style() == Style.LINE ? palette.paper() : palette.value(step, 8);
      out.append("<g transform=\"scale(.1)\"><path fill=\"").append(colour).append("\" stroke=\"")
          .append(palette.ink()).append("\" stroke-width=\"9\" d=\"").append(box).append("\"/>");
      if (step > 0) {
        out.append("<path fill=\"url(#fd-h").append(step).append(")\" d=\"").append(box).append("\"/>");
      }
      out.append("</g><text x=\"").append(x + 38).append("\" y=\"").append((int) y + 16)
          .append("\" font-size=\"15\" font-family=\"sans-serif\" fill=\"currentColor\">")
          .append(String.format(Locale.ROOT, "%d–%d %%", step * 20, step * 20 + 20)).append("</text>");
    }
    out.append("</g>");
  }

  /** The same elements with their colours as attributes, for renderers that do not know CSS variables. */
  private String fixed(String art, Material material, Mark mark) {
    boolean lit = mark instanceof Mark.Lit;
    boolean line = request.style() == Style.LINE;
    boolean dimmed = mark instanceof Mark.Dimmed;
    String edge = line(lit ? 36 : line ? 11 : 14, dimmed ? ".35" : "1");
    String fine = line(6, dimmed ? ".35" : ".7");
    String result = art
        .replace(" class=\"o\"", " fill=\"none\"" + line(lit ? 26 : line ? 11 : 9, dimmed ? ".35" : "1"))
        .replace(" class=\"c\"", " fill=\"none\"" + line(5, dimmed ? ".35" : ".7"))
        .replace(" class=\"tr\"", " fill=\"none\"" + line(10, ".75") + " stroke-dasharray=\"60 26\"")
        .replace(" class=\"vo\"", " fill=\"" + (dimmed ? palette.dimmed(2) : palette.dark()) + "\"");
    for (int k = 0; k < Tones.COUNT; k++) {
      String fill = " fill=\"" + colour(material, mark, k) + "\"";
      result = result
          .replace(" class=\"k" + k + "\"", fill)
          .replace(" class=\"k" + k + " e\"", fill + edge)
          .replace(" class=\"k" + k + " d\"", fill + fine);
    }
    return result;
  }

  private String line(int width, String opacity) {
    return " stroke=\"" + palette.ink() + "\" stroke-width=\"" + width + (opacity.equals("1") ? "" : "\" stroke-opacity=\"" + opacity) + "\"";
  }

  private String colour(Material material, Mark mark, int tone) {
    if (request.style() == Style.LINE) {
      return palette.paper();
    }
    if (mark instanceof Mark.Lit) {
      return palette.lit(tone);
    }
    if (mark instanceof Mark.Dimmed) {
      return palette.dimmed(tone);
    }
    return mark instanceof Mark.Value v ? palette.value(v.step(), tone) : palette.tone(material, tone);
  }
}
