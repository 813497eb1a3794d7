package ferrule.web;

/**
 * A request that cannot be met, with what to do about it. Thrown by a handler, it becomes an error page; nothing has
 * been changed.
 */
public final class Refusal extends RuntimeException {

  private static final long serialVersionUID = 1L;

  private final int status;
  private final String title;

  private Refusal(int status, String title, String advice) {
    super(advice);
    this.status = status;
    this.title = title;
  }

  /** The request itself is at fault; the advice says what was expected. */
  public static Refusal invalid(String advice) {
    return new Refusal(400, "That did not go through", advice);
  }

  /** There is nothing there, or nothing that this person may see. */
  public static Refusal notFound(String advice) {
    return new Refusal(404, "Nothing here", advice);
  }

  /** This person may not do that. */
  public static Refusal forbidden(String advice) {
    return new Refusal(403, "Not for your role", advice);
  }

  /** Somebody else was faster, or it has been done already. */
  public static Refusal conflict(String advice) {
    return new Refusal(409, "Already done", advice);
  }

  /** It cannot be done just now, and the request is not at fault; nothing was kept. */
  public static Refusal later(String advice) {
    return new Refusal(503, "Not just now", advice);
  }

  /** The HTTP status. */
  public int status() {
    return status;
  }

  /** The heading of the error page. */
  public String title() {
    return title;
  }

  /** What to do now. */
  public String advice() {
    return getMessage();
  }
}
