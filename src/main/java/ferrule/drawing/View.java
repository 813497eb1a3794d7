package ferrule.drawing;

import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One picture that can be made of the instrument.
 *
 * @param id stable id, such as {@code players-left}
 * @param title the picture in words
 * @param assembly the assembly or part that is shown alone, if it is not the whole instrument
 * @param from the direction from the instrument to the viewer
 * @param up the direction that points up on the picture
 * @param shown the concepts that are shown, with all that belongs to them; empty for everything
 * @param hidden concepts that are left out although they belong to what is shown
 * @param ghosts concepts that are drawn as if of glass, so that what is inside shows; the air in their passages is
 *     drawn full, except in passages that are named here themselves
 * @param moves what is pulled out of its place, and how far
 * @param variants variants that the picture is about, whatever is asked for on their axes
 */
public record View(
    String id,
    String title,
    Optional<ConceptId> assembly,
    Vec from,
    Vec up,
    List<ConceptId> shown,
    Set<ConceptId> hidden,
    Set<ConceptId> ghosts,
    List<Move> moves,
    List<String> variants) {

  /**
   * Parts pulled out of their place.
   *
   * @param parts the concepts, with all that belongs to them
   * @param by how far, in mm
   * @param line whether a line shows the way that they travelled
   */
  public record Move(List<ConceptId> parts, Vec by, boolean line) {

    /** Copies the list. */
    public Move {
      parts = List.copyOf(parts);
    }
  }

  /** Copies the collections. */
  public View {
    shown = List.copyOf(shown);
    hidden = Set.copyOf(hidden);
    ghosts = Set.copyOf(ghosts);
    moves = List.copyOf(moves);
    variants = List.copyOf(variants);
  }
}
