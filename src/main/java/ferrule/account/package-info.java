/**
 * The pages on which people look after their own account: password, PIN, one-time codes, passkeys, open sessions; and on
 * which staff set up shared tablets and help those who have lost their second proof.
 *
 * <p>It knows {@code web} and {@code people}, where sign-in itself is. Start at {@link ferrule.account.AccountPages}.
 */
package ferrule.account;
