package ferrule.drawing;

import ferrule.glossary.ConceptId;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;

/**
 * What a picture shall show. Start with {@link #of} and change what differs:
 * {@code PictureRequest.of("players-left").lit(part).style(Style.LINE)}.
 *
 * @param view the id of the view
 * @param variants the ids of the variants, at most one of each axis; of an axis without a choice, the first is drawn
 * @param style metal or line
 * @param finish the finish of the body metal; without effect in line style
 * @param marks how single parts are set apart
 * @param labels what stands beside the parts
 * @param quizSeed if present, nothing in the picture's source gives a part's name away, and the order of the shapes'
 *     numbers is shuffled by this seed
 * @param fixedColours whether colours are written as plain attributes, for files and for renderers without CSS
 *     variables (PDF, PNG); otherwise the page has them from {@code static/drawing-colours.css}
 */
public record PictureRequest(
    String view,
    Set<String> variants,
    Style style,
    Finish finish,
    Map<ConceptId, Mark> marks,
    Labels labels,
    OptionalLong quizSeed,
    boolean fixedColours) {

  /** Copies the collections, and refuses a quiz that would name its parts. */
  public PictureRequest {
    if (labels == Labels.TERMS && quizSeed.isPresent()) {
      throw new IllegalArgumentException("a quiz picture cannot have the terms beside its parts");
    }
    variants = Set.copyOf(variants);
    marks = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(marks));
  }

  /** A metal picture of a view, with nothing set apart and no labels. */
  public static PictureRequest of(String view) {
    return new PictureRequest(
        view, Set.of(), Style.METAL, Finish.BRASS, Map.of(), Labels.NONE, OptionalLong.empty(), false);
  }

  /** The same with these variants. */
  public PictureRequest variants(Set<String> chosen) {
    return new PictureRequest(view, chosen, style, finish, marks, labels, quizSeed, fixedColours);
  }

  /** The same in this style. */
  public PictureRequest style(Style chosen) {
    return new PictureRequest(view, variants, chosen, finish, marks, labels, quizSeed, fixedColours);
  }

  /** The same in this finish. */
  public PictureRequest finish(Finish chosen) {
    return new PictureRequest(view, variants, style, chosen, marks, labels, quizSeed, fixedColours);
  }

  /** The same with these marks and no others. */
  public PictureRequest marks(Map<ConceptId, Mark> chosen) {
    return new PictureRequest(view, variants, style, finish, chosen, labels, quizSeed, fixedColours);
  }

  /** The same with one more mark. */
  public PictureRequest mark(ConceptId part, Mark mark) {
    Map<ConceptId, Mark> more = new LinkedHashMap<>(marks);
    more.put(part, mark);
    return marks(more);
  }

  /** The same with a part lit. */
  public PictureRequest lit(ConceptId part) {
    return mark(part, Mark.LIT);
  }

  /** The same with these labels. */
  public PictureRequest labels(Labels chosen) {
    return new PictureRequest(view, variants, style, finish, marks, chosen, quizSeed, fixedColours);
  }

  /** The same as a quiz picture. */
  public PictureRequest quiz(long seed) {
    return new PictureRequest(view, variants, style, finish, marks, labels, OptionalLong.of(seed), fixedColours);
  }

  /** The same with colours as plain attributes. */
  public PictureRequest withFixedColours() {
    return new PictureRequest(view, variants, style, finish, marks, labels, quizSeed, true);
  }
}
