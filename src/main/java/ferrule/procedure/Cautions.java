package ferrule.procedure;

import java.util.List;
import java.util.Optional;

/**
 * The cautions of a curriculum.
 *
 * @param restsWith who decides before these do: the data sheet, the local code, the supervising instructor
 * @param all in the order of the file
 */
public record Cautions(String restsWith, List<Caution> all) {

  /** Copies the list and checks that it says who decides. */
  public Cautions {
    if (restsWith.isBlank()) {
      throw new IllegalArgumentException("cautions say who decides before they do");
    }
    all = List.copyOf(all);
  }

  /** The caution with this id, if there is one. */
  public Optional<Caution> find(String id) {
    return all.stream().filter(c -> c.id().equals(id)).findFirst();
  }
}
