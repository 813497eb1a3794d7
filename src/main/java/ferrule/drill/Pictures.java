package ferrule.drill;

import ferrule.drawing.Labels;
import ferrule.drawing.Mark;
import ferrule.drawing.Picture;
import ferrule.drawing.PictureRequest;
import ferrule.drawing.Studio;
import ferrule.drawing.View;
import ferrule.drawing.Visible;
import ferrule.drill.item.Parts;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.naming.TermReader;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The drawings of a drill: which one shows a part best, and what is lit on it.
 *
 * <p>A part is asked for on the whole instrument where its shape is comfortably large there, because only the whole
 * tells a third slide from a second; else on its own assembly, else wherever it shows. A part whose shape is nowhere as
 * large as {@value #SMALLEST} px² and seen to a share of {@value #LEAST_SHARE} is not asked for.
 */
public final class Pictures {

  /** The smallest visible area to ask for, in px² of a drawing 1,000 px wide: a square of 12 px. */
  static final double SMALLEST = 144;

  /** From this area on a part is found without effort. */
  static final double COMFORTABLE = 900;

  /** The smallest share of a part's outline that must be seen: less is a sliver that could be anything. */
  static final double LEAST_SHARE = 0.3;

  /** The views of the whole instrument to look in first: from either side. */
  private static final int USUAL_VIEWS = 2;

  private final Studio studio;
  private final Glossary glossary;
  private final PartNames names;
  private final CompletableFuture<ItemPool> pool;

  /** The drawings of this studio, with the names of this glossary. */
  public Pictures(Studio studio, Glossary glossary) {
    this.studio = studio;
    this.glossary = glossary;
    this.names = new PartNames(glossary);
    // a second of work that nobody should wait for when the server starts
    this.pool = CompletableFuture.supplyAsync(() -> new ItemPool(survey()));
  }

  /** The parts that can be asked for; waits for the survey of the drawings, which runs from the start. */
  public ItemPool pool() {
    return pool.join();
  }

  /** The same parts as those who write items see them; waits for the survey of the drawings. */
  Parts parts() {
    Map<ConceptId, Parts.Seen> seen = new LinkedHashMap<>();
    for (ConceptId part : pool().parts()) {
      Showing s = pool().find(part).orElseThrow();
      boolean onWhole = wholeViews().anyMatch(v -> v.id().equals(s.view()));
      seen.put(part, new Parts.Seen(s.home(), onWhole, s.area(), seen(s.view(), s.variants()), s.variants()));
    }
    return new Parts(glossary, TermReader.of(glossary), seen);
  }

  /** All that can be asked about the instrument and the work on it; waits for the survey of the drawings. */
  ItemBank bank(Work work) {
    return ItemBank.of(pool(), parts(), work.procedures(), work.tolerances());
  }

  // -- surveying

  /** Goes through the views until every part has its drawing, so that few of them need be made. */
  private List<Showing> survey() {
    Map<ConceptId, ConceptId> wanted = new LinkedHashMap<>();
    glossary.nameable().stream()
        .filter(Concept::drawn)
        .forEach(c -> names.home(c.id()).ifPresent(home -> wanted.put(c.id(), home)));
    Map<ConceptId, Showing> found = new LinkedHashMap<>();
    wholeViews().limit(USUAL_VIEWS).forEach(v -> take(v, wanted, found, COMFORTABLE));
    for (double least : new double[] {COMFORTABLE, SMALLEST}) {
      alone().forEach(v -> take(v, within(v.assembly().orElseThrow(), wanted), found, least));
    }
    // what joins the assemblies has views of its own, which show more than the whole does
    studio.views().stream()
        .filter(v -> v.assembly().isEmpty())
        .sorted(Comparator.comparing(v -> v.shown().isEmpty()))
        .forEach(v -> take(v, wanted, found, SMALLEST));
    return glossary.concepts().stream().map(c -> found.get(c.id())).filter(s -> s != null).toList();
  }

  private Stream<View> wholeViews() {
    return studio.views().stream().filter(v -> v.assembly().isEmpty() && v.shown().isEmpty() && v.moves().isEmpty());
  }

  private Stream<View> alone() {
    return studio.views().stream().filter(v -> v.assembly().isPresent());
  }

  private Map<ConceptId, ConceptId> within(ConceptId assembly, Map<ConceptId, ConceptId> wanted) {
    Map<ConceptId, ConceptId> pieces = new LinkedHashMap<>(wanted);
    pieces.keySet().retainAll(glossary.allWithin(assembly).stream().map(Concept::id).toList());
    return pieces;
  }

  /** Takes from a view what it shows of the wanted parts that are not found yet. */
  private void take(View view, Map<ConceptId, ConceptId> wanted, Map<ConceptId, Showing> found, double least) {
    if (found.keySet().containsAll(wanted.keySet())) {
      return;
    }
    Set<String> variants = studio.variantsOf(view, Set.of());
    Map<ConceptId, Visible> visible = studio.visible(view.id(), variants);
    wanted.forEach(
        (part, home) -> {
          Visible v = visible.get(part);
          if (v != null && v.areaPx() >= least && v.fraction() >= LEAST_SHARE) {
            found.computeIfAbsent(part, p -> new Showing(p, home, view.id(), variants, v.areaPx()));
          }
        });
  }

  /** The view that an item was drawn in, or where this edition of the curriculum has none such, the part's view now. */
  private View view(Item item) {
    return studio
        .view(item.view())
        .or(() -> pool().find(item.key()).flatMap(s -> studio.view(s.view())))
        .orElseGet(() -> studio.views().get(0));
  }

  /** The id of the view that an item is drawn in with this edition of the curriculum. */
  public String viewOf(Item item) {
    return view(item).id();
  }

  /** What the drawing of an item shows, in words, which do not hold the name of a part that is to be named. */
  public String caption(Item item) {
    if (!item.isDrawn()) {
      return "";
    }
    View view = view(item);
    if (item.kind() == ItemKind.FIND || wholeViews().anyMatch(view::equals)) {
      return item.kind() != ItemKind.FIND && names.isToldBy(item.key(), view.title()) ? "" : view.title();
    }
    // the title of a close view would tell more than which of several alike assemblies it is
    return names
        .home(item.key())
        .map(home -> names.isToldBy(item.key(), names.term(home)) ? names.qualifiers(home) : names.term(home))
        .map(which -> which.isEmpty() ? "Shown apart" : "Shown apart: " + which)
        .orElse("Shown apart");
  }

  // -- drawing

  /**
   * The drawing that asks: the part is lit if it is to be named; nothing tells it apart if it is to be found.
   *
   * @param item one that {@link Item#isDrawn}
   */
  Picture asking(Item item, boolean numbered) {
    PictureRequest request = request(item).labels(numbered ? Labels.NUMBERS : Labels.NONE);
    return studio.picture(item.lit().map(request::lit).orElse(request));
  }

  /** What the drawing of an item shows. */
  public Sight sight(Item item) {
    return item.isDrawn()
        ? new Sight(seen(view(item).id(), item.variants()), item.kind().isPointed() ? shapes(item) : Set.of())
        : new Sight(Set.of(), Set.of());
  }

  private Set<ConceptId> shapes(Item item) {
    return Set.copyOf(asking(item, false).shapes());
  }

  private Set<ConceptId> seen(String view, Set<String> variants) {
    Map<ConceptId, Visible> visible = studio.visible(view, variants);
    return visible.keySet().stream().filter(p -> visible.get(p).areaPx() > 0).collect(Collectors.toSet());
  }

  /**
   * What a drawing shows.
   *
   * @param seen the parts that are seen
   * @param shapes the parts that have a shape of their own, seen or not; left out where no place is asked for
   */
  public record Sight(Set<ConceptId> seen, Set<ConceptId> shapes) {}

  /** The part beside which this number stands on the numbered drawing; empty if there is none. */
  Optional<ConceptId> numbered(Item item, int number) {
    return asking(item, true).numbers().entrySet().stream()
        .filter(e -> e.getValue() == number)
        .map(Map.Entry::getKey)
        .findFirst();
  }

  /** The part whose shape has this number on the drawing that asks; empty if there is none. */
  Optional<ConceptId> shape(Item item, int number) {
    List<ConceptId> shapes = asking(item, false).shapes();
    return number >= 0 && number < shapes.size() ? Optional.of(shapes.get(number)) : Optional.empty();
  }

  /**
   * The drawing that explains: the part is lit, its relatives keep their metal, and if any of them is seen, the rest is
   * pale. An item without a drawing is explained on the one that shows its part best.
   *
   * @param relatives what the part was taken for, belongs to or joins
   */
  Picture explaining(Item item, Collection<ConceptId> relatives) {
    PictureRequest request = explanation(item).lit(item.key());
    Set<ConceptId> seen = seen(request.view(), request.variants());
    List<ConceptId> shown =
        relatives.stream().filter(r -> seen.stream().anyMatch(s -> belongs(s, r))).toList();
    if (!shown.isEmpty()) {
      for (ConceptId other : studio.picture(explanation(item)).shapes()) {
        if (!belongs(other, item.key()) && shown.stream().noneMatch(r -> belongs(other, r))) {
          request = request.mark(other, Mark.DIMMED);
        }
      }
    }
    return studio.picture(request);
  }

  private PictureRequest explanation(Item item) {
    if (item.isDrawn()) {
      return request(item);
    }
    return pool()
        .find(item.key())
        .map(s -> PictureRequest.of(s.view()).variants(s.variants()))
        .orElseGet(() -> PictureRequest.of(studio.views().get(0).id()))
        .quiz(item.pictureSeed());
  }

  /** The title of the drawing that explains an item. */
  String explainingCaption(Item item) {
    return studio.view(explanation(item).view()).map(View::title).orElse("");
  }

  /** Whether the drawing that explains an item shows this part. */
  boolean isExplained(Item item, ConceptId part) {
    PictureRequest request = explanation(item);
    return seen(request.view(), request.variants()).stream().anyMatch(s -> belongs(s, part));
  }

  private boolean belongs(ConceptId part, ConceptId whole) {
    return part.equals(whole) || glossary.wholesOf(part).stream().anyMatch(w -> w.id().equals(whole));
  }

  private PictureRequest request(Item item) {
    return PictureRequest.of(view(item).id()).variants(item.variants()).quiz(item.pictureSeed());
  }

  /** A part, lit where a drawing shows it well, otherwise on the whole instrument. */
  public Picture of(ConceptId part) {
    return pool()
        .find(part)
        .map(s -> studio.picture(PictureRequest.of(s.view()).variants(s.variants()).lit(part)))
        .orElseGet(() -> whole(Set.of(part)));
  }

  /** The whole instrument with parts coloured by shares from 0 to 1; a part without one keeps its metal. */
  public Picture coloured(Map<ConceptId, Double> shares) {
    Map<ConceptId, Mark> marks = new LinkedHashMap<>();
    shares.forEach((part, share) -> marks.put(part, Mark.value(share)));
    return studio.picture(PictureRequest.of(studio.views().get(0).id()).marks(marks));
  }

  /** The whole instrument with these parts lit. */
  Picture whole(Set<ConceptId> lit) {
    PictureRequest request = PictureRequest.of(studio.views().get(0).id());
    for (ConceptId part : lit) {
      request = request.lit(part);
    }
    return studio.picture(request);
  }
}
