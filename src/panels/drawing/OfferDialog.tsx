import { useState, type ReactNode } from 'react';
import type { Offer, PageOffer } from '../../app/drawings/offer.ts';
import { Dialog } from '../ui/Dialog.tsx';
import { useProgram } from '../ui/hooks.ts';
import { LinesChoice } from './LinesChoice.tsx';
import { PageChoice } from './PageChoice.tsx';
import { PasswordForm } from './PasswordForm.tsx';
import './offer.css';

/** Asks what of an opened PDF or line drawing is to be traced. */
export function OfferDialog({ offer }: { readonly offer: Offer }): ReactNode {
  const program = useProgram();
  // The dialog closes once it is accepted too: what was read is then in use already, and settled.
  const [open, setOpen] = useState(true);
  const close = (): void => {
    setOpen(false);
    const drawings = program.drawings.now();
    if (drawings?.offer() === offer) drawings.settle(offer, null);
  };
  if (!open) return null;
  return (
    <Dialog title={offer.name} wide onClose={close}>
      {offer.kind === 'lines' && <LinesChoice offer={offer} onCancel={close} />}
      {offer.kind === 'page' && offer.opened.ok && (
        <PageChoice offer={offer} opened={offer.opened} onCancel={close} />
      )}
      {offer.kind === 'page' && !offer.opened.ok && <Locked offer={offer} />}
    </Dialog>
  );
}

function Locked({ offer }: { readonly offer: PageOffer }): ReactNode {
  const program = useProgram();
  return (
    <PasswordForm
      onGiven={async (password) => (await program.drawings.now()?.unlockOffer(offer, password)) ?? false}
    />
  );
}
