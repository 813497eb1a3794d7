package ferrule.web;

import ferrule.people.Person;
import ferrule.people.SignedIn;
import io.javalin.http.Context;
import java.util.Optional;
import java.util.UUID;

/** What a handler asks of a request beside its own parameters: who is there, and parameters with clear errors. */
public final class Visit {

  static final String SIGNED_IN = "signed-in";

  private Visit() {}

  /** Who is signed in, if anyone is. */
  public static Optional<SignedIn> signedIn(Context ctx) {
    return Optional.ofNullable(ctx.attribute(SIGNED_IN));
  }

  /** The person who is signed in; only for routes that ask for a sign-in. */
  public static Person person(Context ctx) {
    return signedIn(ctx)
        .map(SignedIn::person)
        .orElseThrow(() -> new IllegalStateException("the route " + ctx.path() + " does not ask for a sign-in"));
  }

  /** The whole address of a page of this site, for a link that leaves the house: it leads here whoever opens it. */
  public static String address(Context ctx, String path) {
    Page.Frame frame = ctx.attribute(Page.FRAME);
    return ctx.scheme() + "://" + ctx.host() + SiteDoor.path(frame.where().here(), path);
  }

  /** The id in the path; a {@link Refusal} if it is not one. */
  public static UUID id(Context ctx, String name) {
    return uuid(ctx.pathParam(name)).orElseThrow(() -> Refusal.notFound("The address is not complete."));
  }

  /** The id in a form field; a {@link Refusal} with this advice if there is none. */
  public static UUID formId(Context ctx, String name, String advice) {
    return formText(ctx, name).flatMap(Visit::uuid).orElseThrow(() -> Refusal.invalid(advice));
  }

  /** The text in a form field, without space around it; empty if it is missing or blank. */
  public static Optional<String> formText(Context ctx, String name) {
    return Optional.ofNullable(ctx.formParam(name)).map(String::strip).filter(text -> !text.isEmpty());
  }

  /** The text in a query parameter, without space around it; empty if it is missing or blank. */
  public static Optional<String> queryText(Context ctx, String name) {
    return Optional.ofNullable(ctx.queryParam(name)).map(String::strip).filter(text -> !text.isEmpty());
  }

  /**
   * The path of ours that this text is, or the first page: an address of another host would let a link send people away
   * after they sign in.
   */
  static String localPath(String then) {
    boolean ours = then != null && then.startsWith("/") && !then.startsWith("//") && !then.contains("\\");
    return ours && then.chars().noneMatch(Character::isISOControl) ? then : "/";
  }

  /** The id that this text is; empty if it is none. */
  public static Optional<UUID> uuid(String text) {
    try {
      return Optional.of(UUID.fromString(text));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }
}
