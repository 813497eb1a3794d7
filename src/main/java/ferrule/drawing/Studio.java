package ferrule.drawing;

import ferrule.drawing.label.Box;
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
 * Makes pictures of an instrument. Thread-safe: scenes and painted parts are made once for each view and
 * choice of variants and kept; a picture with other marks only puts them together anew.
 */
public final class Studio {

  /** The width of every picture in px. */
  public static final int WIDTH = 1000;

  private final Instrument instrument;
  private final Glossary glossary;
  private final Map<String, Scene> scenes = new ConcurrentHashMap<>();
  private final Map<String, Painting> paintings = new ConcurrentHashMap<>();

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
    Draft draft = draft(request);
    String svg =
        new SvgDocument(draft.scene, draft.painting, request, draft.marks, draft.numbers, draft.labeller, draft.seen)
            .write();
    return new Picture(svg, WIDTH, draft.scene.height(), draft.shapes, draft.seen, draft.labeller.numbers());
  }

  /**
   * The labels of a picture alone, to be laid on a picture that was asked for with other labels.
   *
   * @throws IllegalArgumentException if there is no such view
   */
  public LabelLayer labels(PictureRequest request) {
    Draft draft = draft(request);
    Box drawing = new Box(0, 0, WIDTH, draft.scene.height());
    return new LabelLayer(draft.labeller.viewBox(drawing), draft.labeller.svg(), draft.labeller.numbers());
  }

  /**
   * The names of some wholes in a picture, such as the assemblies of an instrument, to be laid on a picture without
   * labels.
   *
   * @param wholes the wholes, none of them a part of another
   * @throws IllegalArgumentException if there is no such view
   */
  public LabelLayer namesOf(List<ConceptId> wholes, PictureRequest request) {
    Draft draft = draft(request.labels(Labels.NONE));
    Labeller labeller = Labeller.ofWholes(glossary, draft.scene.height(), draft.shapes, draft.seen, wholes);
    Box drawing = new Box(0, 0, WIDTH, draft.scene.height());
    return new LabelLayer(labeller.viewBox(drawing), labeller.svg(), Map.of());
  }

  /** A picture before it is written. */
  private record Draft(
      Scene scene,
      Painting painting,
      int[] numbers,
      List<ConceptId> shapes,
      Map<Integer, Mark> marks,
      Map<ConceptId, Visible> seen,
      Labeller labeller) {}

  private Draft draft(PictureRequest request) {
    View view = require(request.view());
    Set<String> variants = variantsOf(view, request.variants());
    Set<ConceptId> hidden = hiddenIn(request);
    String key = view.id() + variants + hidden;
    Scene scene = scenes.computeIfAbsent(key, k -> Scene.of(view, instrument, glossary, variants, hidden));
    Painting painting = paintings.computeIfAbsent(
        key + request.style(), k -> Painting.of(scene, request.style() == Style.METAL));
    Map<Integer, Mark> marks = marksOf(scene, request);
    int[] numbers = numbers(painting, scene.parts().size(), request, marks);
    Map<Integer, ConceptId> byNumber = new java.util.TreeMap<>();
    Map<Integer, Mark> marksByShape = new HashMap<>();
    for (int i = 0; i < numbers.length; i++) {
      if (numbers[i] >= 0) {
        byNumber.put(numbers[i], scene.parts().get(i));
        marksByShape.put(numbers[i], marks.get(i));
      }
    }
    List<ConceptId> shapes = List.copyOf(byNumber.values());
    Map<ConceptId, Visible> seen = scene.seen();
    Labeller labeller = Labeller.ofParts(request.labels(), glossary, scene.height(), shapes, seen, marksByShape);
    return new Draft(scene, painting, numbers, shapes, marks, seen, labeller);
  }

  /**
   * How much of each part is seen in a view; parts that are drawn but nowhere seen have a fraction of 0. A whole that
   * has no shape of its own, such as a brace of three pieces, is seen as far as its pieces are.
   */
  public Map<ConceptId, Visible> visible(String viewId, Set<String> chosen) {
    View view = require(viewId);
    Set<String> variants = variantsOf(view, chosen);
    String key = view.id() + variants + Set.of();
    return scenes.computeIfAbsent(key, k -> Scene.of(view, instrument, glossary, variants, Set.of())).seen();
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

  private static Set<ConceptId> hiddenIn(PictureRequest request) {
    Set<ConceptId> hidden = new TreeSet<>();
    request.marks().forEach((part, mark) -> {
      if (mark instanceof Mark.Hidden) {
        hidden.add(part);
      }
    });
    return hidden;
  }

  private View require(String id) {
    return view(id).orElseThrow(() -> new IllegalArgumentException("there is no view '" + id + "'"));
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

  /** The shape number of each part; -1 for parts that are not in the picture. */
  private static int[] numbers(
      Painting painting, int parts, PictureRequest request, Map<Integer, Mark> marks) {
    List<Integer> drawn = new ArrayList<>();
    Set<Integer> painted = painting.parts();
    for (int part = 0; part < parts; part++) {
      if (painted.contains(part) && !(marks.get(part) instanceof Mark.Hidden)) {
        drawn.add(part);
      }
    }
    request.quizSeed().ifPresent(seed -> Collections.shuffle(drawn, new Random(seed)));
    int[] numbers = new int[parts];
    java.util.Arrays.fill(numbers, -1);
    for (int n = 0; n < drawn.size(); n++) {
      numbers[drawn.get(n)] = n;
    }
    return numbers;
  }
}
