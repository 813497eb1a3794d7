package ferrule.store;

import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.util.Optional;
import java.util.Set;

/** What can be wrong with a database while the program that uses it is not at fault. */
public enum StoreTrouble {
  /** The server does not answer, is starting or stopping, or all connections stayed busy for too long. */
  UNREACHABLE,
  /** The disk that it is on is full. */
  FULL;

  // H2: the database is closed, was closed by a fault, or its file cannot be read or written
  private static final Set<Integer> H2_CLOSED = Set.of(90098, 90121, 90067, 90028, 90031);
  // PostgreSQL (appendix A of its manual): disk full; H2 tells by the message of the file system
  private static final String POSTGRES_DISK_FULL = "53100";
  private static final Set<String> POSTGRES_AWAY = Set.of("57P01", "57P02", "57P03", "53300");
  private static final int DEEPEST = 20;

  /** The trouble that a fault comes from; empty if it comes from something else. */
  public static Optional<StoreTrouble> of(Throwable fault) {
    Optional<StoreTrouble> found = Optional.empty();
    int depth = 0;
    for (Throwable cause = fault; cause != null && depth < DEEPEST; cause = cause.getCause(), depth++) {
      if (isFull(cause)) {
        return Optional.of(FULL);
      }
      if (cause instanceof SQLException sql && isAway(sql)) {
        found = Optional.of(UNREACHABLE);
      }
    }
    return found;
  }

  private static boolean isFull(Throwable cause) {
    if (cause instanceof SQLException sql && POSTGRES_DISK_FULL.equals(sql.getSQLState())) {
      return true;
    }
    String message = String.valueOf(cause.getMessage());
    return message.contains("No space left on device") || message.contains("There is not enough space on the disk")
        || message.contains("Disk quota exceeded") || message.contains("File too large");
  }

  private static boolean isAway(SQLException sql) {
    String state = String.valueOf(sql.getSQLState());
    return sql instanceof SQLTransientConnectionException || state.startsWith("08") || POSTGRES_AWAY.contains(state)
        || H2_CLOSED.contains(sql.getErrorCode());
  }
}
