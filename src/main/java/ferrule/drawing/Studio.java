package ferrule.drawing;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Variant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;

/**
 * Makes pictures of an instrument. Thread-safe: scenes, painted parts and visibility are made once for each view and
 * choice of variants and kept; a picture with other marks only puts them together anew.
 */
public final class Studio {

  /** The width of every picture in px. */
  public static final int WIDTH = 1000;

  private final Instrument instrument;
  private final Glossary glossary;
  private final Map<String, Scene> scenes = new ConcurrentHashMap<>();
  private final Map<String, Painting> paintings = new ConcurrentHashMap<>();
  private final Map<String, Map<ConceptId, Visible>> sights = new ConcurrentHashMap<>();

  private Studio(Instrument instrument, Glossary glossary) {
    this.instrument = instrument;
    this.glossary = glossary;
  }

  /** A studio for an instrument whose parts have the names of this glossary. */
  public static Studio of(Instrument instrument, Glossary glossary) {
    return new Studio(instrument, glossary);
  }

  /** The instrument. */
  public Instrument instrument() {
    return instrument;
  }

  /** The views, in the order of the file. */
  public List<View> views() {
    return instrument.views();
  }

  /** The view with this id, if there is one. */
  public Optional<View> view(String id) {
    return instrument.view(id);
  }

  /**
   * A picture.
   *
   * @throws IllegalArgumentException if there is no such view
   */
  public Picture picture(PictureRequest request) {
    View view = require(request.view());
    Set<String> variants = variantsOf(view, request.variants());
    String key = view.id() + variants;
    Scene scene = scenes.computeIfAbsent(key, k -> Scene.of(view, instrument, glossary, variants));
    Painting painting = paintings.computeIfAbsent(
        key + request.style(), k -> Painting.of(scene, request.style() == Style.METAL));
    int[] numbers = numbers(scene.parts().size(), request);
    ConceptId[] shapes = new ConceptId[numbers.length];
    Map<Integer, Mark> marks = marksOf(scene, request);
    Map<Integer, Mark> marksByShape = new HashMap<>();
    for (int i = 0; i < numbers.length; i++) {
      shapes[numbers[i]] = scene.parts().get(i);
      marksByShape.put(numbers[i], marks.get(i));
    }
    Map<ConceptId, Visible> seen = sight(key, scene);
    Labeller labeller =
        new Labeller(request.labels(), glossary, scene.height(), List.of(shapes), seen, marksByShape);
    String svg = new SvgDocument(scene, painting, request, marks, numbers, labeller).write();
    return new Picture(svg, WIDTH, scene.height(), List.of(shapes), seen, labeller.numbers());
  }

  /**
   * How much of each part is seen in a view; parts that are drawn but nowhere seen have a fraction of 0. A whole that
   * has no shape of its own, such as a brace of three pieces, is seen as far as its pieces are.
   */
  public Map<ConceptId, Visible> visible(String viewId, Set<String> chosen) {
    View view = require(viewId);
    Set<String> variants = variantsOf(view, chosen);
    String key = view.id() + variants;
    return sight(key, scenes.computeIfAbsent(key, k -> Scene.of(view, instrument, glossary, variants)));
  }

  /** The choice of variants that a view is drawn with, one of each axis, given what was asked for. */
  public Set<String> variantsOf(View view, Set<String> asked) {
    Map<String, String> byAxis = new LinkedHashMap<>();
    for (Variant v : glossary.variants()) {
      byAxis.putIfAbsent(v.axis(), v.id());
    }
    for (Variant v : glossary.variants()) {
      if (asked.contains(v.id())) {
        byAxis.put(v.axis(), v.id());
      }
    }
    for (Variant v : glossary.variants()) {
      if (view.variants().contains(v.id())) {
        byAxis.put(v.axis(), v.id());
      }
    }
    return Collections.unmodifiableSet(new TreeSet<>(byAxis.values()));
  }

  private View require(String id) {
    return view(id).orElseThrow(() -> new IllegalArgumentException("there is no view '" + id + "'"));
  }

  private Map<ConceptId, Visible> sight(String key, Scene scene) {
    return sights.computeIfAbsent(key, k -> {
      VisibilityMap map = scene.visibility();
      Map<ConceptId, Visible> seen = new LinkedHashMap<>();
      List<ConceptId> parts = scene.parts();
      for (int i = 0; i < parts.size(); i++) {
        seen.put(parts.get(i), map.of(List.of(i)));
      }
      wholesOf(parts).forEach((whole, pieces) -> seen.put(whole, map.of(pieces)));
      return Collections.unmodifiableMap(seen);
    });
  }

  /** The drawn wholes without a shape of their own, with the numbers of their pieces. */
  private Map<ConceptId, List<Integer>> wholesOf(List<ConceptId> parts) {
    Map<ConceptId, List<Integer>> wholes = new LinkedHashMap<>();
    for (int i = 0; i < parts.size(); i++) {
      for (Concept whole : glossary.wholesOf(parts.get(i))) {
        if (whole.drawn() && !parts.contains(whole.id())) {
          wholes.computeIfAbsent(whole.id(), w -> new ArrayList<>()).add(i);
        }
      }
    }
    return wholes;
  }

  /** The mark of each part of a scene: its own, or that of the nearest whole that has one. */
  private Map<Integer, Mark> marksOf(Scene scene, PictureRequest request) {
    Map<Integer, Mark> marks = new HashMap<>();
    for (int i = 0; i < scene.parts().size() && !request.marks().isEmpty(); i++) {
      ConceptId part = scene.parts().get(i);
      Mark mark = request.marks().get(part);
      for (Concept whole : glossary.wholesOf(part)) {
        mark = mark == null ? request.marks().get(whole.id()) : mark;
      }
      if (mark != null) {
        marks.put(i, mark);
      }
    }
    return marks;
  }

  private static int[] numbers(int parts, PictureRequest request) {
    List<Integer> order = new ArrayList<>();
    for (int i = 0; i < parts; i++) {
      order.add(i);
    }
    request.quizSeed().ifPresent(seed -> Collections.shuffle(order, new Random(seed)));
    return order.stream().mapToInt(Integer::intValue).toArray();
  }
}
