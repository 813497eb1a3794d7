package ferrule.competency;

import java.util.List;

/**
 * What a school teaches: areas of competencies, in one edition.
 *
 * @param id stable name
 * @param title in words
 * @param edition of the curriculum that it was read from
 * @param areas in the order of learning
 */
public record Programme(String id, String title, String edition, List<Area> areas) {

  /** Copies the list. */
  public Programme {
    areas = List.copyOf(areas);
  }

  /** Every competency, in the order of learning. */
  public List<Competency> competencies() {
    return areas.stream().flatMap(a -> a.competencies().stream()).toList();
  }
}
