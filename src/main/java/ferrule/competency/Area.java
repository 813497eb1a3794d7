package ferrule.competency;

import java.util.List;

/**
 * Competencies that belong together.
 *
 * @param id stable name
 * @param title such as "Slides and water keys"
 * @param competencies in the order of learning
 */
public record Area(String id, String title, List<Competency> competencies) {

  /** Copies the list. */
  public Area {
    competencies = List.copyOf(competencies);
  }
}
