package ferrule.atlas;

import ferrule.drawing.Labels;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.StringJoiner;

/**
 * How somebody wants to see the instrument; it travels in the address, so that a link shows the same to all.
 *
 * @param view the id of the view, if one was chosen
 * @param variants the ids of the variants that were chosen
 * @param labels what stands beside the parts, if that was chosen
 */
record Wish(Optional<String> view, List<String> variants, Optional<Labels> labels) {

  static final String VIEW = "view";
  static final String MODEL = "model";
  static final String LABELS = "labels";
  private static final int MOST_VARIANTS = 20;

  Wish {
    variants = List.copyOf(variants);
  }

  /** Reads a wish from the texts of an address; what is not understood is as if it were not there. */
  static Wish of(Optional<String> view, Optional<String> model, Optional<String> labels) {
    List<String> variants = model.map(m -> List.of(m.split("\\.", MOST_VARIANTS))).orElse(List.of());
    return new Wish(view, variants, labels.flatMap(Wish::labelsNamed));
  }

  private static Optional<Labels> labelsNamed(String word) {
    return List.of(Labels.values()).stream().filter(l -> word(l).equals(word)).findFirst();
  }

  private static String word(Labels labels) {
    return labels.name().toLowerCase(Locale.ROOT);
  }

  Wish withView(String other) {
    return new Wish(Optional.of(other), variants, labels);
  }

  Wish withVariants(List<String> others) {
    return new Wish(view, others, labels);
  }

  Wish withLabels(Labels others) {
    return new Wish(view, variants, Optional.of(others));
  }

  /** The same model, seen as its next page thinks best. */
  Wish onlyModel() {
    return new Wish(Optional.empty(), variants, Optional.empty());
  }

  /** The address of a page with this wish. */
  String on(String path) {
    StringJoiner query = new StringJoiner("&", "?", "").setEmptyValue("");
    view.ifPresent(v -> query.add(VIEW + "=" + encoded(v)));
    if (!variants.isEmpty()) {
      query.add(MODEL + "=" + encoded(String.join(".", variants)));
    }
    labels.ifPresent(l -> query.add(LABELS + "=" + word(l)));
    return path + query;
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
