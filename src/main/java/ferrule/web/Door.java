package ferrule.web;

import ferrule.people.Opening;
import ferrule.people.PasskeyPlace;
import io.javalin.http.Context;
import java.util.Optional;
import java.util.UUID;

/** Sessions, for the pages on which people look after their own account. */
public final class Door {

  private Door() {}

  /** Opens a new session in place of this browser's, for a person who has just proved anew who they are. */
  public static void reopen(Context ctx, UUID personId, Opening.How how) {
    gate(ctx).open(ctx, personId, how);
  }

  /** Closes this browser's session. */
  public static void close(Context ctx) {
    gate(ctx).close(ctx);
  }

  /** Makes this browser a shared tablet by its token, or one no more if the token is empty. */
  public static void makeTablet(Context ctx, String token) {
    gate(ctx).makeTablet(ctx, token);
  }

  /** By what people know their account with the school, if they may come in by one. */
  public static Optional<String> schoolTitle(Context ctx) {
    return gate(ctx).schoolTitle();
  }

  /** Where this browser's passkeys are for. */
  public static PasskeyPlace place(Context ctx) {
    return gate(ctx).place(ctx);
  }

  /** Whether this browser is a shared tablet. */
  public static boolean isTablet(Context ctx) {
    return gate(ctx).tablet(ctx).isPresent();
  }

  private static Gate gate(Context ctx) {
    return ctx.attribute(Gate.HERE);
  }
}
