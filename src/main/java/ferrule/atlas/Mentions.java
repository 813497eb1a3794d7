package ferrule.atlas;

import ferrule.glossary.ConceptId;
import java.util.List;

/** Where else in Ferrule a part comes up, such as in the procedures that touch it. */
@FunctionalInterface
public interface Mentions {

  /** The places that speak of a part; empty if there are none. */
  List<Mention> of(ConceptId part);

  /**
   * One such place.
   *
   * @param title what it is, in words of the trade
   * @param path where it can be read
   */
  record Mention(String title, String path) {}
}
