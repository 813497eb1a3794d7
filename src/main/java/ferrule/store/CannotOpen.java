package ferrule.store;

import java.net.UnknownHostException;
import java.nio.file.AccessDeniedException;
import java.sql.SQLException;
import java.util.Optional;

/** A database that cannot be opened; the message is one sentence that says why and what to do. */
public final class CannotOpen extends RuntimeException {

  private static final long serialVersionUID = 1L;

  private final boolean passing;

  private CannotOpen(String sentence, boolean passing, Throwable cause) {
    super(sentence, cause);
    this.passing = passing;
  }

  /** The fault that opening this database ended in, as a sentence. */
  public static CannotOpen of(DatabaseUrl url, Throwable fault) {
    Optional<String> known = Optional.empty();
    for (Throwable cause = fault; cause != null && known.isEmpty(); cause = cause.getCause()) {
      known = known(url, cause);
    }
    boolean passing = known.isEmpty() && StoreTrouble.of(fault).filter(t -> t == StoreTrouble.UNREACHABLE).isPresent();
    String unknown = passing
        ? "the database at " + url.place() + " does not answer; is its server running, and is the address right?"
        : "the database at " + url.place() + " cannot be opened: " + root(fault).getMessage();
    return new CannotOpen(known.orElse(unknown), passing, fault);
  }

  /** The tables are those of another version of the program. */
  static CannotOpen otherVersion(DatabaseUrl url, String sentence) {
    return new CannotOpen("the database at " + url.place() + " " + sentence, false, null);
  }

  private static Throwable root(Throwable fault) {
    Throwable root = fault;
    while (root.getCause() != null) {
      root = root.getCause();
    }
    return root;
  }

  private static Optional<String> known(DatabaseUrl url, Throwable cause) {
    if (cause instanceof UnknownHostException) {
      return Optional.of("there is no machine of the name in the database address " + url.place());
    }
    if (cause instanceof AccessDeniedException denied) {
      return Optional.of("the folder of the database may not be written by this user: " + denied.getFile());
    }
    if (!(cause instanceof SQLException sql)) {
      return Optional.empty();
    }
    return Optional.ofNullable(
        switch (String.valueOf(sql.getSQLState())) {
          case "28P01", "28000" -> "the database at " + url.place()
              + " refuses the user or the password (FERRULE_DB_USER, FERRULE_DB_PASSWORD)";
          case "3D000" -> "the server has no database of the name in " + url.place() + "; make it first (createdb)";
          case "42501" -> "the user may not make tables in the database at " + url.place()
              + "; make it the owner of the database";
          case "90020" -> "the database " + url.place()
              + " is open in another program, and an embedded one is open to one at a time: stop the server first";
          case "90030", "90048", "90049" -> "the file of the database " + url.place()
              + " is damaged or no database of this kind: restore a backup into a new folder; a file of an earlier "
              + "version is carried over as README.md says";
          default -> null;
        });
  }

  /** Whether it is an embedded database that another program has open. */
  public boolean isTaken() {
    for (Throwable cause = getCause(); cause != null; cause = cause.getCause()) {
      if (cause instanceof SQLException sql && "90020".equals(sql.getSQLState())) {
        return true;
      }
    }
    return false;
  }

  /** Whether it may be gone when it is tried again in a moment, as while the server of the database starts. */
  public boolean mayPass() {
    return passing;
  }
}
