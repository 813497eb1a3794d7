package ferrule.ledger;

import java.util.List;
import java.util.Optional;

/**
 * What a feature keeps beside the log and the log vouches for: photos by their hash, rows that repeat what an entry says.
 * Whoever recomputes the log asks the feature whether all of it still agrees.
 */
public interface Vouched {

  /**
   * The first of these entries, a stretch of the log in its order, of which something that is kept beside it has been
   * altered, removed or exchanged. An entry that the feature does not know is passed over.
   */
  Optional<LogCheck.Touched> firstTouched(List<LogEntry> entries);

  /**
   * Something that is kept although no entry of the log vouches for it; asked after the last entry.
   *
   * @return a sentence that says what has been inserted
   */
  default Optional<String> inserted() {
    return Optional.empty();
  }
}
